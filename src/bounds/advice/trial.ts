// Settings tried with the same search that found the trouble, as long as there are states left to spend.
import {
  type BoundsQuestion,
  longestMs,
  type Searched,
  searched,
  searchesFor,
  sureFromMs,
} from '../bounds.js';
import { calmEnvironment } from '../environment.js';
import type { Start } from '../holds.js';
import type { SearchOptions } from '../search.js';
import { TooManyStatesError } from '../visited.js';

/** What the trials of one question may still spend. */
export interface Meter {
  states: number;
}

/** Bounds of settings that do what is asked. */
export interface Proved {
  readonly alwaysReportedFromMs: number;
  readonly worstDelayMs: number | null;
  readonly neverAlarmedUpToMs: number | null;
}

const forEver = Number.POSITIVE_INFINITY;

/** Whether everything that is asked holds; null: it does not, or it could not be found out. */
export function proved(question: BoundsQuestion, from: Start, meter: Meter): Proved | null {
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = question.judge;
  const asked = { decisionMs: leaveOpenAfterMs, deliveryMs: reportWithinMs ?? forEver };
  const slowest = spent(question, { ...searchesFor[from], asked }, meter);
  if (slowest === null) return null;
  const sureMs = sureFromMs(slowest.result);
  const worstMs = longestMs(slowest.result);
  if (sureMs === null || sureMs > leaveOpenAfterMs) return null;
  if (reportWithinMs !== null && (worstMs === null || worstMs > reportWithinMs)) return null;
  const quickest = spent(question, searchesFor.quickest, meter);
  if (quickest === null) return null;
  const quietMs = quickest.result.decision?.openingMs ?? null;
  if (quietUpToMs !== null && quietMs !== null && quietUpToMs > quietMs) return null;
  return { alwaysReportedFromMs: sureMs, worstDelayMs: worstMs, neverAlarmedUpToMs: quietMs };
}

/** The same at rest and with nothing going wrong: what does not hold there holds nowhere, and it takes next to nothing. */
export function holdsInCalm(question: BoundsQuestion, meter: Meter): 'yes' | 'slow' | 'nervous' {
  const calm: BoundsQuestion = {
    ...question,
    environment: calmEnvironment,
    judge: { ...question.judge, quietUpToMs: null },
  };
  if (proved(calm, 'atRest', meter) === null) return 'slow';
  const { quietUpToMs } = question.judge;
  if (quietUpToMs === null) return 'yes';
  return proved({ ...calm, judge: { ...calm.judge, quietUpToMs } }, 'atRest', meter) === null
    ? 'nervous'
    : 'yes';
}

function spent(question: BoundsQuestion, options: SearchOptions, meter: Meter): Searched | null {
  if (meter.states <= 0) return null;
  try {
    const found = searched(question, { ...options, mostNodes: meter.states });
    meter.states -= found.result.nodes;
    return found;
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    meter.states -= error.mostNodes;
    return null;
  }
}
