// Does the watch do what its owner asks?
import type { Holds } from './answer.js';
import type { BoundsQuestion } from './question.js';

/** Bounds as far as they are known; undefined: not found out, null: there is none. */
export interface Known {
  readonly alwaysReportedFromMs: Readonly<Record<Start, number | null | undefined>>;
  readonly worstDelayMs: Readonly<Record<Start, number | null | undefined>>;
  readonly neverAlarmedUpToMs: number | null | undefined;
}

export type Start = 'atRest' | 'anyState';

const nothingRequired: Holds = {
  leaveOpenAfter: { atRest: null, anyState: null },
  reportWithin: { atRest: null, anyState: null },
  quietUpTo: { atRest: null, anyState: null },
};

export function holdsOf({ judge, isJudged }: BoundsQuestion, known: Known): Holds {
  if (!isJudged) return nothingRequired;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = judge;
  const { alwaysReportedFromMs: sure, worstDelayMs: worst, neverAlarmedUpToMs: quiet } = known;
  return {
    leaveOpenAfter: {
      atRest: isWithin(sure.atRest, leaveOpenAfterMs),
      anyState: isWithin(sure.anyState, leaveOpenAfterMs),
    },
    reportWithin: {
      atRest: isWithin(worst.atRest, reportWithinMs),
      anyState: isWithin(worst.anyState, reportWithinMs),
    },
    quietUpTo: {
      atRest:
        quietUpToMs === null || quiet === undefined ? null : quiet === null || quietUpToMs <= quiet,
      anyState: null,
    },
  };
}

function isWithin(bound: number | null | undefined, askedMs: number | null): boolean | null {
  if (askedMs === null || bound === undefined) return null;
  return bound !== null && bound <= askedMs;
}
