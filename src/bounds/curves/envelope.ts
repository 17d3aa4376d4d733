// The least, or the greatest, of several curves at every millisecond.
import type { Curve } from '../answer.js';

/** A curve's probability at a duration. */
export function valueAt(curve: Curve, ms: number): number {
  let low = 0;
  let high = curve.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((curve[middle]?.[0] ?? 0) <= ms) low = middle + 1;
    else high = middle;
  }
  const before = curve[low - 1];
  const after = curve[low];
  if (before === undefined) return after?.[1] ?? 0;
  if (after === undefined) return before[1];
  const share = (ms - before[0]) / (after[0] - before[0]);
  return before[1] + share * (after[1] - before[1]);
}

export function envelope(curves: readonly Curve[], pick: 'least' | 'greatest'): Curve {
  const extreme = pick === 'least' ? Math.min : Math.max;
  const bends = [...new Set(curves.flatMap((curve) => curve.map(([ms]) => ms)))].sort(
    (a, b) => a - b,
  );
  const instants = new Set(bends);
  bends.forEach((from, index) => {
    const to = bends[index + 1];
    if (to !== undefined) for (const ms of crossings(curves, from, to)) instants.add(ms);
  });
  const points = [...instants]
    .sort((a, b) => a - b)
    .map((ms) => [ms, extreme(...curves.map((curve) => valueAt(curve, ms)))] as const);
  return withoutFlatEnds(points.filter((_, index) => !isStraight(points, index)));
}

/** Whole milliseconds around where two curves cross, between two instants that no curve bends between. */
function crossings(curves: readonly Curve[], from: number, to: number): readonly number[] {
  const lines = curves.map((curve) => [valueAt(curve, from), valueAt(curve, to)] as const);
  return lines.flatMap((one, index) =>
    lines.slice(index + 1).flatMap((other) => {
      const before = one[0] - other[0];
      const after = one[1] - other[1];
      if (before * after >= 0) return [];
      const ms = from + Math.floor(((to - from) * before) / (before - after));
      return [ms, ms + 1].filter((at) => at > from && at < to);
    }),
  );
}

/** A curve is flat outside its points anyway. */
function withoutFlatEnds(points: Curve): Curve {
  let from = 0;
  let to = points.length;
  while (to - from > 1 && areLevel(points[from], points[from + 1])) from += 1;
  while (to - from > 1 && areLevel(points[to - 1], points[to - 2])) to -= 1;
  return points.slice(from, to);
}

function areLevel(one: Curve[number] | undefined, other: Curve[number] | undefined): boolean {
  return one !== undefined && other !== undefined && Math.abs(one[1] - other[1]) < tolerance;
}

/** Below what a probability is worth telling: the points were worked out in doubles. */
const tolerance = 1e-12;

function isStraight(points: Curve, index: number): boolean {
  const [before, here, after] = [points[index - 1], points[index], points[index + 1]];
  if (before === undefined || here === undefined || after === undefined) return false;
  return Math.abs(valueAt([before, after], here[0]) - here[1]) < tolerance;
}
