// One way through the watch: actions placed, each in a sleep of the device, so that they meet no wake.
import { itemAt } from '../base/index.js';
import type { Action, Awaited } from './plan.js';
import { rehearse, type SureWake } from './rehearse.js';
import { reactionAt, type Stage } from './stage.js';

/** A time in which a person waits for something longer than a sleep. */
export interface Wait {
  readonly setting: Awaited;
  readonly fromMs: number;
  readonly toMs: number;
}

/** A script that has come as far as the sleep after the wake at `at`. */
export interface Route {
  readonly actions: readonly Action[];
  readonly wakes: readonly SureWake[];
  readonly at: number;
  readonly open: boolean;
  readonly networkDown: boolean;
  /** Of the automaton, after the wake at `at`. */
  readonly state: number;
  /** Numbers of the reactions made up to there. */
  readonly made: readonly number[];
  readonly waits: readonly Wait[];
}

/** What to do in the sleep that a route has come to; it then stands in the next sleep. */
export type Move =
  | 'wait'
  | 'door'
  | 'door-late'
  | 'network'
  | 'both'
  | 'reset'
  | 'power'
  | 'blip'
  | Longer;

/** To the first check after the end of a cooldown, or the next heartbeat; or to the sleep before it. */
export type Longer = 'to-cooldown-end' | 'past-cooldown' | 'to-heartbeat' | 'past-heartbeat';

/** Long enough to take power out and be sure that the device has noticed. */
const powerCutMs = 10_000;
/** Between two actions in one sleep. */
const blipMs = 10_000;
/** A person has time to walk to the door, where there is time. */
const walkMs = 4_000;

/** The way that begins with power-on at a shut door; null: even its start depends on chance. */
export function startOf(stage: Stage): Route | null {
  const start = { actions: [], at: 0, open: false, networkDown: false, waits: [] };
  return settled(stage, start, { fromMs: 0, walked: { state: 0, made: [], upTo: -1 } });
}

/** Null: no time is left for it, or its result depends on chance. */
export function moved(stage: Stage, route: Route, move: Move): Route | null {
  const { at, open, networkDown } = route;
  const walked = { state: route.state, made: route.made, upTo: at };
  if (move === 'wait' && itemAt(route.wakes, at).holds) return route;
  if (move === 'wait') {
    return settled(stage, { ...route, at: at + 1 }, { fromMs: workEndOf(route), walked });
  }
  if (isLonger(move)) return movedLonger(stage, route, move);
  const lengthMs = move === 'power' ? powerCutMs : move === 'blip' || move === 'both' ? blipMs : 0;
  // What is cut off from power does not wake: only the cut itself must come in the sleep.
  const atMs = placed(stage, route, {
    lengthMs: move === 'power' ? 0 : lengthMs,
    late: move === 'door-late',
  });
  if (atMs === null) return null;
  const actions = [...route.actions, ...actionsOf(route, move, atMs)];
  // A device that holds does not wake for the door or the network: the route stays where it is.
  const wakes = move === 'reset' || move === 'power' || !itemAt(route.wakes, at).holds;
  const isDoor = move === 'door' || move === 'door-late' || move === 'both';
  return settled(
    stage,
    {
      actions,
      at: wakes ? at + 1 : at,
      open: isDoor ? !open : open,
      networkDown: move === 'network' || move === 'both' ? !networkDown : networkDown,
      waits: route.waits,
    },
    { fromMs: atMs + lengthMs, walked },
  );
}

function isLonger(move: Move): move is Longer {
  return move.startsWith('to-') || move.startsWith('past-');
}

/** To the end of a cooldown or to a heartbeat, where one lies ahead. */
function movedLonger(stage: Stage, route: Route, move: Longer): Route | null {
  const { alertCooldownMs, heartbeatIntervalMs } = stage.question.program.watch;
  const before = move.startsWith('to-');
  if (move === 'to-heartbeat' || move === 'past-heartbeat') {
    if (heartbeatIntervalMs === null) return null;
    const holds = (one: SureWake): boolean => one.beats;
    return movedUntil(stage, route, {
      setting: 'heartbeatInterval',
      withinMs: heartbeatIntervalMs * 1.2,
      holds,
      before,
    });
  }
  const { coolsAfter, cooldownOver } = itemAt(route.wakes, route.at);
  const runs = coolsAfter && cooldownOver !== true;
  if (!runs || alertCooldownMs === 0) return null;
  const holds = (one: SureWake): boolean => one.cooldownOver === true;
  return movedUntil(stage, route, {
    setting: 'alertCooldown',
    withinMs: alertCooldownMs * 1.2,
    holds,
    before,
  });
}

/** The route gone on to the first wake ahead for which something holds, or to the sleep before it. */
function movedUntil(
  stage: Stage,
  route: Route,
  on: {
    readonly setting: Awaited;
    readonly withinMs: number;
    readonly holds: (wake: SureWake) => boolean;
    readonly before: boolean;
  },
): Route | null {
  const endsMs = workEndOf(route) + Math.ceil(on.withinMs) + 2 * stage.horizonMs;
  const rehearsal = rehearse(stage.question, stage.corners, { actions: route.actions, endsMs });
  if (rehearsal === null) return null;
  const { wakes } = rehearsal;
  const found = wakes.findIndex((wake, index) => index > route.at && on.holds(wake));
  const at = on.before ? found - 1 : found;
  if (found < 0 || at <= route.at) return null;
  const walked = walkedOn(stage, wakes.slice(0, at + 1), {
    state: route.state,
    made: route.made,
    upTo: route.at,
  });
  const there = { ...route, ...walked, wakes, at };
  const wait = { setting: on.setting, fromMs: workEndOf(route), toMs: workEndOf(there) };
  return { ...there, waits: [...route.waits, wait] };
}

/** How far wakes were walked through the automaton. */
interface Walked {
  readonly state: number;
  readonly made: readonly number[];
  /** The last wake that was. */
  readonly upTo: number;
}

function settled(
  stage: Stage,
  route: Pick<Route, 'actions' | 'at' | 'open' | 'networkDown' | 'waits'>,
  on: { readonly fromMs: number; readonly walked: Walked },
): Route | null {
  const { question, corners, horizonMs } = stage;
  const endsMs = on.fromMs + 2 * horizonMs;
  const { actions, at, open, networkDown, waits } = route;
  const rehearsal = rehearse(question, corners, { actions, endsMs });
  if (rehearsal === null || rehearsal.wakes.length <= at) return null;
  const { wakes } = rehearsal;
  const { state, made } = walkedOn(stage, wakes.slice(0, at + 1), on.walked);
  return { actions, at, open, networkDown, waits, wakes, state, made };
}

/** What wakes lead the automaton through: its last state, and the reactions made on the way. */
export function walkedOn(
  stage: Stage,
  wakes: readonly SureWake[],
  from: Walked = { state: 0, made: [], upTo: -1 },
): Pick<Route, 'state' | 'made'> {
  const { states } = stage.automaton;
  const made = [...from.made];
  let { state } = from;
  for (let index = from.upTo + 1; index < wakes.length; index += 1) {
    for (const code of itemAt(wakes, index).codes) {
      made.push(reactionAt(stage, state, code));
      state = itemAt(states, state).reactions[code]?.to ?? state;
    }
  }
  return { state, made };
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
  const holds = itemAt(route.wakes, route.at).holds;
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
    case 'to-cooldown-end':
    case 'past-cooldown':
    case 'to-heartbeat':
    case 'past-heartbeat':
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
