// What is known of openings by their length: the bounds that never, maybe and always stand between, and the curve over them.
import { gapsOf } from './advice/blind-band.js';
import type { Bounds } from './answer.js';
import { curvesOf } from './curves/curves.js';
import { holdsOf, type Known } from './holds.js';
import type { BoundsQuestion } from './question.js';

/** A part of all bounds: far quicker to find than their witnesses and advice. */
export type LengthBounds = Pick<
  Bounds,
  | 'alwaysReportedFromMs'
  | 'neverAlarmedUpToMs'
  | 'holds'
  | 'gaps'
  | 'detectionCurve'
  | 'detectionCurveMost'
>;

/** @returns null where the searches stopped before it was known. */
export function lengthBoundsOf(question: BoundsQuestion, known: Known): LengthBounds | null {
  const { alwaysReportedFromMs: sure, neverAlarmedUpToMs } = known;
  if (neverAlarmedUpToMs === undefined || sure.atRest === undefined) return null;
  const { detectionCurve, detectionCurveMost } = curvesOf(question);
  return {
    alwaysReportedFromMs: { atRest: sure.atRest, anyState: sure.anyState ?? null },
    neverAlarmedUpToMs,
    holds: holdsOf(question, known),
    gaps: gapsOf(question),
    detectionCurve,
    detectionCurveMost,
  };
}
