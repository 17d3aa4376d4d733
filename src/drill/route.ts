// One way through the watch: actions placed, each in a sleep of the device, so that they meet no wake.
import { itemAt } from '../base/index.js';
import { type Automaton } from '../emit/index.js';
import { inputsOf } from '../visits/index.js';
import type { Corner } from './corners.js';
import type { Action, DrillQuestion } from './plan.js';
import { rehearse, type SureWake } from './rehearse.js';

/** A script that has come as far as the sleep after the wake at `at`. */
export interface Route {
  readonly actions: readonly Action[];
  readonly wakes: readonly SureWake[];
  readonly at: number;
  readonly open: boolean;
  readonly networkDown: boolean;
}

/** What to do in the sleep that a route has come to; it then stands in the next sleep. */
export type Move = 'wait' | 'door' | 'door-late' | 'network' | 'both' | 'reset' | 'power' | 'blip';

/** What stays the same while routes are made. */
export interface Stage {
  readonly question: DrillQuestion;
  readonly corners: readonly Corner[];
  readonly automaton: Automaton;
  /** Within this, whatever the device does next has happened. */
  readonly horizonMs: number;
}

/** Long enough to take power out and be sure that the device has noticed. */
const powerCutMs = 10_000;
/** Between two actions in one sleep. */
const blipMs = 10_000;
/** A person has time to walk to the door, where there is time. */
const walkMs = 4_000;

/** The way that begins with power-on at a shut door; null: even its start depends on chance. */
export function startOf(stage: Stage): Route | null {
  return settled(stage, { actions: [], at: 0, open: false, networkDown: false }, 0);
}

/** Null: there is no time for it, or what comes of it depends on chance. */
export function moved(stage: Stage, route: Route, move: Move): Route | null {
  const { at, open, networkDown } = route;
  if (move === 'wait' && itemAt(route.wakes, at).wake.holds) return route;
  if (move === 'wait') return settled(stage, { ...route, at: at + 1 }, workEndOf(route));
  const lengthMs = move === 'power' ? powerCutMs : move === 'blip' || move === 'both' ? blipMs : 0;
  // What is cut off from power does not wake: only the cut itself must come in the sleep.
  const atMs = placed(stage, route, {
    lengthMs: move === 'power' ? 0 : lengthMs,
    late: move === 'door-late',
  });
  if (atMs === null) return null;
  const actions = [...route.actions, ...actionsOf(route, move, atMs)];
  // A device that holds does not wake for the door or the network: the route stays where it is.
  const wakes = move === 'reset' || move === 'power' || !itemAt(route.wakes, at).wake.holds;
  const isDoor = move === 'door' || move === 'door-late' || move === 'both';
  return settled(
    stage,
    {
      actions,
      at: wakes ? at + 1 : at,
      open: isDoor ? !open : open,
      networkDown: move === 'network' || move === 'both' ? !networkDown : networkDown,
    },
    atMs + lengthMs,
  );
}

/** The route gone on to the first wake ahead for which something holds, or to the sleep before it. */
export function movedUntil(
  stage: Stage,
  route: Route,
  on: {
    readonly withinMs: number;
    readonly holds: (wake: SureWake) => boolean;
    readonly before: boolean;
  },
): Route | null {
  const endsMs = workEndOf(route) + on.withinMs + 2 * stage.horizonMs;
  const rehearsal = rehearse(stage.question, stage.corners, { actions: route.actions, endsMs });
  if (rehearsal === null) return null;
  const { wakes } = rehearsal;
  const found = wakes.findIndex((wake, index) => index > route.at && on.holds(wake));
  const at = on.before ? found - 1 : found;
  return found < 0 || at <= route.at ? null : { ...route, wakes, at };
}

function settled(stage: Stage, route: Omit<Route, 'wakes'>, fromMs: number): Route | null {
  const { question, corners, horizonMs } = stage;
  const endsMs = fromMs + 2 * horizonMs;
  const rehearsal = rehearse(question, corners, { actions: route.actions, endsMs });
  if (rehearsal === null || rehearsal.wakes.length <= route.at) return null;
  return { ...route, wakes: rehearsal.wakes };
}

export function workEndOf({ wakes, at }: Route): number {
  return itemAt(wakes, at).workToMs;
}

/** When to act in the sleep that a route stands in, on a whole second; null: it is too short. */
function placed(
  { question: { toleranceMs }, horizonMs }: Stage,
  route: Route,
  on: { readonly lengthMs: number; readonly late: boolean },
): number | null {
  const next = route.wakes[route.at + 1];
  const holds = itemAt(route.wakes, route.at).wake.holds;
  // Where the corners part, nobody knows how long the sleep lasts.
  if (next === undefined && !holds) return null;
  const fromMs = workEndOf(route) + toleranceMs + 1;
  const last = route.actions.at(-1)?.atMs ?? 0;
  // One that does not hold, though it should, must get the time to check in between.
  const apartMs = holds && last > fromMs ? horizonMs : 2 * toleranceMs + 1;
  const leastMs = Math.max(fromMs, last + apartMs);
  const mostMs = (next?.wakeFromMs ?? leastMs + horizonMs) - toleranceMs - 1;
  if (on.late) {
    const lateMs = Math.floor((mostMs - 1_000) / 1_000) * 1_000;
    return lateMs >= leastMs ? lateMs : null;
  }
  const easyMs = Math.ceil((leastMs + walkMs) / 5_000) * 5_000;
  if (easyMs + on.lengthMs <= mostMs) return easyMs;
  const soonMs = Math.ceil(leastMs / 1_000) * 1_000;
  return soonMs + on.lengthMs <= mostMs ? soonMs : null;
}

function actionsOf({ open, networkDown }: Route, move: Move, atMs: number): readonly Action[] {
  switch (move) {
    case 'wait':
      return [];
    case 'door':
    case 'door-late':
      return [{ atMs, deed: open ? 'shut' : 'open' }];
    case 'network':
      return [{ atMs, deed: networkDown ? 'network-on' : 'network-off' }];
    case 'both':
      return [
        { atMs, deed: networkDown ? 'network-on' : 'network-off' },
        { atMs: atMs + blipMs, deed: open ? 'shut' : 'open' },
      ];
    case 'reset':
      return [{ atMs, deed: 'reset' }];
    case 'power':
      return [
        { atMs, deed: 'power-off' },
        { atMs: atMs + powerCutMs, deed: 'power-on' },
      ];
    case 'blip':
      return [
        { atMs, deed: open ? 'shut' : 'open' },
        { atMs: atMs + blipMs, deed: open ? 'open' : 'shut' },
      ];
  }
}

/** What wakes lead the automaton through: its last state, and the reactions made on the way. */
export function walked(
  { automaton }: Stage,
  wakes: readonly SureWake[],
): { readonly state: number; readonly made: readonly string[] } {
  let state = 0;
  const made: string[] = [];
  for (const [index, { wake }] of wakes.entries()) {
    for (const code of inputsOf(wake, index)) {
      made.push(reactionKey(automaton, state, code));
      state = itemAt(automaton.states, state).reactions[code]?.to ?? state;
    }
  }
  return { state, made };
}

/** Inputs that lead a state to the same by the same are one; checks are told apart by what they read. */
export function reactionKey(automaton: Automaton, state: number, code: number): string {
  const reaction = itemAt(automaton.states, state).reactions[code];
  const isCheck = code >= 8 && code < 16;
  return [
    state,
    isCheck ? `check ${String(code & 1)}` : code,
    reaction?.to,
    reaction?.effects,
  ].join();
}
