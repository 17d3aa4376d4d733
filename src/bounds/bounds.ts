// The bounds of a watch: what holds for every door timeline there can be, found by exhaustive search.
import { invariant } from '../base/index.js';
import { mostSearchedStates, mostTimedStates, possibleResets } from '../model/index.js';
import type { AtRestAndAnyState } from './answer.js';
import { areSeldom } from './horizon.js';
import type { BoundsQuestion } from './question.js';
import { type SearchOptions, type SearchResult, search } from './search.js';
import { timesOf } from './times.js';
import type { Model } from './track.js';
import { unlessOutgrown } from './visited.js';

/** The bounds, exact on the millisecond grid. */
export interface DetectionBounds {
  /** The least D such that every opening at least D long is reported: an alert is decided in it, and one of its alerts is delivered. */
  readonly alwaysReportedFromMs: AtRestAndAnyState;
  /** The least length from which an alert is always decided. */
  readonly alwaysDecidedFromMs: AtRestAndAnyState;
  /** The greatest Q such that no opening at most Q long, at rest and followed by a shut door, causes an alert. */
  readonly neverAlarmedUpToMs: number;
  /** The greatest detection latency of an opening that never ends. */
  readonly worstDelayMs: AtRestAndAnyState;
  /** The least, at rest. */
  readonly bestDelayMs: number | null;
  /** Runs that reach each of them. */
  readonly runs: {
    readonly slowest: { readonly atRest: SearchResult; readonly anyState: SearchResult };
    readonly quickest: SearchResult;
  };
}

/** The model that is searched for a question. */
export function modelOf(question: BoundsQuestion): Model {
  const { program, timing, environment, reset } = question;
  invariant(program.cooldownFrom === undefined, 'bounds are of a cooldown from the delivery', {});
  return {
    table: program.table,
    times: timesOf(program.watch, timing),
    environment,
    resets: possibleResets(reset),
    wakeOn: program.watch.wakeOn,
    heartbeats: 'timed',
    warnings: program.watch.lowBattery === undefined ? 'never' : 'free',
  };
}

/** A search's result with the model that it is of. */
export interface Searched {
  readonly model: Model;
  readonly result: SearchResult;
}

/**
 * Searches a question's model; where following the heartbeats takes too many states, one that leaves them free.
 * @throws TooManyStatesError when that outgrows its limit, too.
 */
export function searched(question: BoundsQuestion, options: SearchOptions): Searched {
  const model = { ...modelOf(question), warnings: warningsFor(question, options) };
  const mostNodes = options.mostNodes ?? mostSearchedStates;
  if (model.times.heartbeatMs === Number.POSITIVE_INFINITY) {
    return { model, result: search(model, { ...options, mostNodes }) };
  }
  const mayBeSeldom = options.seek === 'greatest' && areSeldom(model, model.times.heartbeatMs);
  const loose = mayBeSeldom ? 'seldom' : 'free';
  // A heartbeat delays, and the soonest alert has no use for it: its run is found without, and replayed as any other.
  // And for a requirement, a safe bound is enough.
  const mayBeLoose = mayBeSeldom || options.seek === 'least' || options.asked !== undefined;
  const isEnough = options.isSafeEnough === true && (mayBeSeldom || options.seek === 'least');
  if (isEnough || (mayBeLoose && wouldOutgrow(model, options))) {
    return loosely(model, loose, options);
  }
  const limit = Math.min(mostTimedStates, mostNodes);
  return unlessOutgrown(
    () => ({ model, result: search(model, { ...options, mostNodes: limit }) }),
    () => loosely(model, loose, options),
  );
}

/** A low-battery message delays, and the soonest alert has no use for it. */
function warningsFor(question: BoundsQuestion, { seek }: SearchOptions): Model['warnings'] {
  return seek === 'least' ? 'never' : warningsOf(question);
}

/** How the low-battery message is taken in searches for the latest alert. */
export function warningsOf(question: BoundsQuestion): Model['warnings'] {
  const model = modelOf(question);
  if (model.warnings === 'never') return 'never';
  return areSeldom(model, model.times.lowBatteryMs) ? 'seldom' : 'free';
}

function loosely(timed: Model, heartbeats: 'seldom' | 'free', options: SearchOptions): Searched {
  const model: Model = { ...timed, heartbeats };
  return { model, result: search(model, options) };
}

/** From any state, each check between two heartbeats would be met beside each of a cooldown. */
export function wouldOutgrow({ times }: Model, { from }: SearchOptions): boolean {
  const periodMs = times.sleeps[0].mostMs + times.bootMs.most;
  const beats = times.heartbeatMs / periodMs;
  const cooled = from === 'anywhere' ? times.cooldownMs / periodMs : 0;
  return beats * (1 + cooled) > mostTimedStates / 4;
}

/** The three searches that the bounds come from. */
export const searchesFor = {
  atRest: { from: 'rest', seek: 'greatest' },
  anyState: { from: 'anywhere', seek: 'greatest' },
  quickest: { from: 'rest', seek: 'least' },
} as const satisfies Readonly<Record<string, SearchOptions>>;

/** @throws TooManyStatesError when the state space outgrows its limit: no bound is claimed then. */
export function detectionBounds(question: BoundsQuestion): DetectionBounds {
  const { result: atRest } = searched(question, searchesFor.atRest);
  const { result: anyState } = searched(question, searchesFor.anyState);
  const { result: quickest } = searched(question, searchesFor.quickest);
  return {
    alwaysReportedFromMs: {
      atRest: sureFromMs(atRest),
      anyState: sureFromMs(anyState),
    },
    alwaysDecidedFromMs: {
      atRest: decidedFromMs(atRest),
      anyState: decidedFromMs(anyState),
    },
    neverAlarmedUpToMs: quickest.decision?.openingMs ?? Number.POSITIVE_INFINITY,
    worstDelayMs: { atRest: longestMs(atRest), anyState: longestMs(anyState) },
    bestDelayMs: quickest.delivery?.openingMs ?? null,
    runs: { slowest: { atRest, anyState }, quickest },
  };
}

/** From a millisecond more than the longest opening that may go unreported; null: there is no such bound. */
export function sureFromMs({ never, unreported }: SearchResult): number | null {
  return never !== null || unreported === null ? null : unreported.openingMs + 1;
}

/** An opening must last one millisecond beyond the latest first decision to hold it; null: there is no such bound. */
export function decidedFromMs({ undecided, decision }: SearchResult): number | null {
  return undecided !== null || decision === null ? null : decision.openingMs + 1;
}

/** The latest delivery; null: there is no such bound. */
export function longestMs({ never, delivery }: SearchResult): number | null {
  return never !== null || delivery === null ? null : delivery.openingMs;
}
