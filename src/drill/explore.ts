// All that a watch can be led to, the quickest way first; and from each place some endings that let it show by messages
// what it has come to.
import { itemAt } from '../base/index.js';
import { withTurns } from './corners.js';
import type { Action, BoundSide, Window } from './plan.js';
import { rehearse, type SureWake } from './rehearse.js';
import {
  type Move,
  moved,
  movedUntil,
  type Route,
  type Stage,
  startOf,
  walked,
  workEndOf,
} from './route.js';

/** A step that might be: what it shows is yet to be found out. */
export interface Candidate {
  readonly actions: readonly Action[];
  readonly endsMs: number;
  /** Ranges of the messages, widened by the tolerance, to whole seconds. */
  readonly windows: readonly Window[];
  readonly wakes: readonly SureWake[];
  readonly bounds: readonly BoundSide[];
}

/** Tells places apart beyond what the sound watch knows of them. */
export type Aside = (route: Route) => string;

/** More places than this are not looked for; where it is about one mistake only, fewer. */
const mostPlaces = 220;
const mostPlacesAside = 60;

const moves: readonly Move[] = ['wait', 'door', 'network', 'both', 'reset', 'power'];

/** Routes to all places that can be led to, in the order of time. */
export function* placesOf(stage: Stage, aside: Aside | null = null): Generator<Route> {
  const first = startOf(stage);
  if (first === null) return;
  const { watch } = stage.question.program;
  const choices: readonly Move[] = watch.wakeOn === 'timer' ? moves : [...moves, 'blip'];
  const waiting: Route[] = [first];
  const most = aside === null ? mostPlaces : mostPlacesAside;
  const seen = new Set<string>();
  const made = new Set<string>();
  while (waiting.length > 0 && seen.size < most) {
    const route = takeSoonest(waiting);
    const key = placeOf(stage, route) + (aside?.(route) ?? '');
    const before = made.size;
    for (const one of walked(stage, route.wakes.slice(0, route.at + 1)).made) made.add(one);
    const known = seen.has(key);
    // A new way to a known place shows something, too, but leads on to nothing new.
    if (!known || made.size > before) yield route;
    if (known) continue;
    seen.add(key);
    for (const move of choices) push(waiting, moved(stage, route, move));
    for (const next of longWaits(stage, route)) push(waiting, next);
  }
}

function push(waiting: Route[], route: Route | null): void {
  if (route !== null) waiting.push(route);
}

function takeSoonest(waiting: Route[]): Route {
  let best = 0;
  for (let index = 1; index < waiting.length; index += 1) {
    if (workEndOf(itemAt(waiting, index)) < workEndOf(itemAt(waiting, best))) best = index;
  }
  const route = itemAt(waiting, best);
  waiting.splice(best, 1);
  return route;
}

function placeOf(stage: Stage, route: Route): string {
  const { state } = walked(stage, route.wakes.slice(0, route.at + 1));
  const { check } = itemAt(route.wakes, route.at).wake;
  return [state, route.open, route.networkDown, check?.cooldownOver].join();
}

/** To the end of a cooldown, and to a heartbeat: both the sleep before it and the one after. */
function longWaits(stage: Stage, route: Route): readonly (Route | null)[] {
  const { alertCooldownMs, heartbeatIntervalMs } = stage.question.program.watch;
  const { wake } = itemAt(route.wakes, route.at);
  const waits: (Route | null)[] = [];
  if (wake.memoryAfter.coolingDown && wake.check?.cooldownOver !== true && alertCooldownMs > 0) {
    const holds = (one: SureWake): boolean => one.wake.check?.cooldownOver === true;
    for (const before of [true, false]) {
      waits.push(movedUntil(stage, route, { withinMs: alertCooldownMs * 1.2, holds, before }));
    }
  }
  if (heartbeatIntervalMs !== null) {
    const holds = (one: SureWake): boolean => one.wake.heartbeatSend !== null;
    for (const before of [true, false]) {
      waits.push(movedUntil(stage, route, { withinMs: heartbeatIntervalMs * 1.2, holds, before }));
    }
  }
  return waits;
}

/** Candidates that go on from a place: as it is, with the door opened, with the network back, with a pause of the door. */
export function endingsOf(stage: Stage, place: Route): readonly Candidate[] {
  const { escalationThreshold, clearThreshold } = stage.question.program.watch;
  const checks = escalationThreshold.outOf + 1;
  const pause = (length: number): readonly Move[] => [
    'door',
    ...Array.from({ length: length - 1 }, () => 'wait' as const),
    'door',
  ];
  const ways: readonly (readonly Move[])[] = [
    [],
    ...(place.open ? [pause(clearThreshold)] : [['door'] as const]),
    ...(place.open && clearThreshold > 1 ? [pause(clearThreshold - 1)] : []),
    ...(place.networkDown ? [['network'] as const] : []),
    ...(place.networkDown && !place.open ? [['network', 'door'] as const] : []),
  ];
  return ways.flatMap((way) => {
    const route = led(stage, place, way);
    const candidate = route === null ? null : ended(stage, route, { checks, bounds: [] });
    return candidate === null ? [] : [candidate];
  });
}

function led(stage: Stage, from: Route, way: readonly Move[]): Route | null {
  let route: Route | null = from;
  for (const move of way) route = route === null ? null : moved(stage, route, move);
  return route;
}

/** The candidate that watches a route for so many checks more; null: what comes of it depends on chance. */
function ended(
  stage: Stage,
  route: Route,
  on: { readonly checks: number; readonly bounds: readonly BoundSide[] },
): Candidate | null {
  const { question, corners, horizonMs } = stage;
  const { actions } = route;
  const { toleranceMs } = question;
  const aheadMs = workEndOf(route) + (on.checks + 1) * horizonMs;
  const ahead = rehearse(question, corners, { actions, endsMs: aheadMs });
  if (ahead === null) return null;
  const last = ahead.wakes[Math.min(route.at + on.checks, ahead.wakes.length - 1)];
  // That a device holds shows in what does not come.
  const heldMs = last?.wake.holds === true ? on.checks * horizonMs : 0;
  const actedMs = (actions.at(-1)?.atMs ?? 0) + toleranceMs;
  const afterMs = Math.max(last?.workToMs ?? 0, actedMs) + heldMs;
  const endsMs = Math.ceil((afterMs + toleranceMs + 1_001) / 1_000) * 1_000;
  const { alertCooldownMs, heartbeats } = question.program.watch;
  const cools = ahead.wakes.some(({ wake }) => wake.memoryBefore.coolingDown);
  const timers = (alertCooldownMs > 0 && cools) || heartbeats;
  const all = timers ? withTurns(corners, actions.length) : corners;
  const sure = rehearse(question, all, { actions, endsMs }) ?? { messages: null, wakes: [] };
  if (sure.messages === null) return null;
  const windows = sure.messages.map(({ fromMs, toMs }) => ({
    fromMs: Math.max(0, Math.floor((fromMs - toleranceMs) / 1_000) * 1_000),
    toMs: Math.ceil((toMs + toleranceMs) / 1_000) * 1_000,
  }));
  // Messages that may come in either order cannot be told apart.
  const apart = windows.every(({ fromMs }, index) => fromMs > (windows[index - 1]?.toMs ?? -1));
  return apart ? { actions, endsMs, windows, wakes: sure.wakes, bounds: on.bounds } : null;
}

/** Both sides of the bounds: openings as long as can be without a message, as short as can be with one. */
export function sidesOf(stage: Stage): readonly Candidate[] {
  const first = startOf(stage);
  if (first === null) return [];
  const { open } = stage.question.program.watch.escalationThreshold;
  const waits = (count: number): readonly Move[] =>
    Array.from({ length: Math.max(0, count) }, () => 'wait' as const);
  const made: readonly (readonly [readonly Move[], number, readonly BoundSide[]])[] = [
    [['door-late', ...waits(open - 2), 'door-late'], 2, ['longest-quiet']],
    [['door', ...waits(open - 1), 'door'], 1, ['shortest-told', 'slowest']],
    [['door-late'], open, ['soonest']],
  ];
  return made.flatMap(([way, checks, bounds]) => {
    const route = led(stage, first, way);
    const candidate = route === null ? null : ended(stage, route, { checks, bounds });
    return candidate === null ? [] : [candidate];
  });
}
