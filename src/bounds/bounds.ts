// The bounds of a watch: what holds for every door timeline there can be, found by exhaustive search.
import type { Program } from '../sim/index.js';
import type { JudgeSettings } from '../verdict/index.js';
import type { ContactSettings, DeviceTiming } from '../world/index.js';
import type { AtRestAndAnyState } from './answer.js';
import { type Environment, timesOf } from './environment.js';
import { type Found, type SearchResult, search } from './search.js';
import type { Model } from './track.js';

/** What bounds are sought for. */
export interface BoundsQuestion {
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly judge: JudgeSettings;
  /** Null: an ideal contact. */
  readonly contact: ContactSettings | null;
  readonly sealGapUm: number;
  readonly environment: Environment;
}

/** The bounds, exact on the millisecond grid. */
export interface DetectionBounds {
  /** The least D such that every opening at least D long gets an alert decided in it. */
  readonly alwaysReportedFromMs: AtRestAndAnyState;
  /** The greatest Q such that no opening at most Q long, at rest and followed by a shut door, causes an alert. */
  readonly neverAlarmedUpToMs: number;
  /** The greatest detection latency of an opening that never ends. */
  readonly worstDelayMs: AtRestAndAnyState;
  /** The least, at rest. */
  readonly bestDelayMs: number | null;
  /** Courses that reach each of them. */
  readonly courses: {
    readonly slowest: { readonly atRest: SearchResult; readonly anyState: SearchResult };
    readonly quickest: SearchResult;
  };
}

/** The model that is searched for a question. */
export function modelOf(question: BoundsQuestion): Model {
  const { program, timing, environment } = question;
  return {
    table: program.table,
    times: timesOf(program.watch, timing),
    environment,
    wakeOn: program.watch.wakeOn,
    heartbeats: 'timed',
  };
}

/** @throws TooManyStatesError when the state space outgrows its limit: no bound is claimed then. */
export function detectionBounds(question: BoundsQuestion): DetectionBounds {
  const model = modelOf(question);
  const atRest = search(model, { from: 'rest', seek: 'greatest' });
  const anyState = search(model, { from: 'anywhere', seek: 'greatest' });
  const quickest = search(model, { from: 'rest', seek: 'least' });
  return {
    alwaysReportedFromMs: {
      atRest: sureFromMs(atRest),
      anyState: sureFromMs(anyState),
    },
    neverAlarmedUpToMs: quickest.decision?.openingMs ?? Number.POSITIVE_INFINITY,
    worstDelayMs: { atRest: longestMs(atRest), anyState: longestMs(anyState) },
    bestDelayMs: quickest.delivery?.openingMs ?? null,
    courses: { slowest: { atRest, anyState }, quickest },
  };
}

/** An opening must last one millisecond beyond the latest first decision to hold it. */
function sureFromMs(result: SearchResult): number | null {
  return result.never !== null || result.decision === null ? null : result.decision.openingMs + 1;
}

function longestMs(result: SearchResult): number | null {
  return result.never !== null || result.delivery === null ? null : result.delivery.openingMs;
}

export type { Found };
