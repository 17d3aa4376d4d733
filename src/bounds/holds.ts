// Does the watch do what its owner asks?
import { gapsOf } from './advice/blind-band.js';
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

export function holdsOf(question: BoundsQuestion, known: Known): Holds {
  const { judge, isJudged } = question;
  if (!isJudged) return nothingRequired;
  // At rest where the contact reads shut, no door is ever reported.
  const isBlind = gapsOf(question)?.kind === 'blind';
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = judge;
  const { alwaysReportedFromMs: sure, worstDelayMs: worst, neverAlarmedUpToMs: quiet } = known;
  return {
    leaveOpenAfter: {
      atRest: !isBlind && isWithin(sure.atRest, leaveOpenAfterMs),
      anyState: !isBlind && isWithin(sure.anyState, leaveOpenAfterMs),
    },
    reportWithin: {
      atRest: isBlind && reportWithinMs !== null ? false : isWithin(worst.atRest, reportWithinMs),
      anyState:
        isBlind && reportWithinMs !== null ? false : isWithin(worst.anyState, reportWithinMs),
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
