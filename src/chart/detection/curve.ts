// Piecewise linear functions of a duration, as the bounds give them: pieces, and where a value is reached.
import { type Curve, valueAt } from '../../bounds/index.js';

export interface CurvePoint {
  readonly ms: number;
  readonly share: number;
}

/** The piece of a curve between two durations, with a point at each of them. */
export function pieceOf(curve: Curve, fromMs: number, toMs: number): readonly CurvePoint[] {
  const inside = curve
    .filter(([ms]) => ms > fromMs && ms < toMs)
    .map(([ms, share]): CurvePoint => ({ ms, share }));
  return [
    { ms: fromMs, share: valueAt(curve, fromMs) },
    ...inside,
    { ms: toMs, share: valueAt(curve, toMs) },
  ];
}

/** The least duration at which a rising curve reaches a value; null: it never does. */
export function reachedAt(curve: Curve, share: number): number | null {
  let before: Curve[number] | undefined;
  for (const point of curve) {
    if (point[1] >= share) {
      if (before === undefined || point[1] === before[1]) return point[0];
      return before[0] + ((point[0] - before[0]) * (share - before[1])) / (point[1] - before[1]);
    }
    before = point;
  }
  return null;
}
