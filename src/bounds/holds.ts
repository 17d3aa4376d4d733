// Does the watch do what its owner asks?
import { gapsOf } from './advice/blind-band.js';
import type { Holds } from './answer.js';
import { type BounceMargins, bounceMarginsOf, quietInSpiteOf } from './bounce.js';
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
  const margins = bounceMarginsOf(question);
  const { lateMs } = margins;
  const within = (bounds: Known['worstDelayMs'], askedMs: number | null, from: Start) =>
    isBlind && askedMs !== null ? false : isWithin(bounds[from], askedMs, lateMs[from]);
  const both = (bounds: Known['worstDelayMs'], askedMs: number | null) => ({
    atRest: within(bounds, askedMs, 'atRest'),
    anyState: within(bounds, askedMs, 'anyState'),
  });
  return {
    leaveOpenAfter: both(sure, leaveOpenAfterMs),
    reportWithin: both(worst, reportWithinMs),
    quietUpTo: { atRest: isQuiet(quiet, quietUpToMs, margins), anyState: null },
  };
}

/** Null also where the bound is within the requirement, and the bounce of the contact leaves open whether that is enough. */
function isWithin(
  bound: number | null | undefined,
  askedMs: number | null,
  marginMs: number,
): boolean | null {
  if (askedMs === null || bound === undefined) return null;
  if (bound === null || bound > askedMs) return false;
  return bound + marginMs <= askedMs ? true : null;
}

/** As above. @param bound null: no opening ever raises an alert. */
function isQuiet(
  bound: number | null | undefined,
  askedMs: number | null,
  margins: BounceMargins,
): boolean | null {
  if (askedMs === null || bound === undefined) return null;
  const quietMs = bound ?? Number.POSITIVE_INFINITY;
  if (quietMs < askedMs) return false;
  return quietInSpiteOf(margins, quietMs) >= askedMs ? true : null;
}
