// All that a watch can be led to, the quickest way first, and what leads from each place to others.
import { itemAt } from '../base/index.js';
import { type StepKind, stepKinds } from './plan.js';
import { type Move, moved, type Route, startOf, workEndOf } from './route.js';
import type { Stage } from './stage.js';

/** A sleep of the device that a person knows it to be in, as far as it matters what may come. */
export interface Place {
  readonly key: string;
  /** The quickest to it. */
  readonly route: Route;
  readonly ways: readonly Way[];
}

/** What a move leads to from a place. */
export interface Way {
  readonly move: Move;
  readonly to: string;
  readonly costMs: number;
  /** Numbers of the reactions that it causes. */
  readonly makes: readonly number[];
}

export interface Explored {
  readonly places: ReadonlyMap<string, Place>;
  /** To each place, and further ways to places that made something new. */
  readonly routes: readonly Route[];
}

/** Tells places apart beyond what the sound watch knows of them. */
export type Aside = (route: Route) => string;

const moves: readonly Move[] = [
  'wait',
  'door',
  'network',
  'both',
  'reset',
  'power',
  'to-cooldown-end',
  'past-cooldown',
  'to-heartbeat',
  'past-heartbeat',
];

const movesOf: Readonly<Record<StepKind, readonly Move[]>> = {
  reset: ['reset'],
  network: ['network', 'both'],
  power: ['power'],
  heartbeat: ['to-heartbeat', 'past-heartbeat'],
};

/** Routes in the order of time, each as soon as it is found; in the end, all of it. */
export function* explored(
  stage: Stage,
  on: { readonly mostPlaces: number; readonly aside?: Aside },
): Generator<Route, Explored> {
  const places = new Map<string, Place>();
  const routes: Route[] = [];
  const first = startOf(stage);
  if (first === null) return { places, routes };
  const { program, reset, without } = stage.question;
  const leftOut: ReadonlySet<Move> = new Set(
    stepKinds.flatMap((kind) => {
      // What a reset leads to must be known.
      const unsure = kind === 'reset' && reset.button === null;
      return unsure || without.has(kind) ? movesOf[kind] : [];
    }),
  );
  const sure = moves.filter((move) => !leftOut.has(move));
  const choices: readonly Move[] = program.watch.wakeOn === 'timer' ? sure : [...sure, 'blip'];
  const waiting: Route[] = [];
  const made = new Set<number>();
  for (let route: Route | undefined = first; route !== undefined; route = waiting.pop()) {
    const key = placeOf(route) + (on.aside?.(route) ?? '');
    const known = places.has(key);
    const before = made.size;
    for (const one of route.made) made.add(one);
    // A new way to a known place shows something, too, but leads on to nothing new.
    if (!known || made.size > before) {
      routes.push(route);
      yield route;
    }
    if (known) continue;
    if (places.size >= on.mostPlaces) break;
    const ways: Way[] = [];
    for (const move of choices) {
      const next = moved(stage, route, move);
      if (next === null || next === route) continue;
      putIn(waiting, next);
      ways.push({
        move,
        to: placeOf(next),
        costMs: workEndOf(next) - workEndOf(route),
        makes: next.made.slice(route.made.length),
      });
    }
    places.set(key, { key, route, ways });
  }
  return { places, routes };
}

/** Into a list that is sorted by time, the soonest last. */
function putIn(waiting: Route[], route: Route): void {
  const atMs = workEndOf(route);
  let low = 0;
  let high = waiting.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (workEndOf(itemAt(waiting, middle)) > atMs) low = middle + 1;
    else high = middle;
  }
  waiting.splice(low, 0, route);
}

export function placeOf({ state, open, networkDown, wakes, at }: Route): string {
  return [state, open, networkDown, itemAt(wakes, at).cooldownOver].join();
}
