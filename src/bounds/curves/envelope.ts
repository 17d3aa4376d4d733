// The least, or the greatest, of several curves at every millisecond.
import { itemAt } from '../../base/index.js';
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

/** @param extreme the least of values, or the greatest */
export function envelope(
  curves: readonly Curve[],
  extreme: (...values: number[]) => number,
): Curve {
  const bends = [...new Set(curves.flatMap((curve) => curve.map(([ms]) => ms)))].sort(
    (a, b) => a - b,
  );
  const instants = new Set(bends);
  bends.slice(1).forEach((to, index) => {
    for (const ms of crossings(curves, itemAt(bends, index), to)) instants.add(ms);
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
      // Where they do not cross in between, this is nowhere in between either.
      const ms = from + Math.floor(((to - from) * before) / (before - after));
      return [ms, ms + 1].filter((at) => at > from && at < to);
    }),
  );
}

/** A curve is flat outside its points anyway. */
function withoutFlatEnds(points: Curve): Curve {
  let from = 0;
  let to = points.length;
  const areLevel = (one: number, other: number): boolean =>
    Math.abs(itemAt(points, one)[1] - itemAt(points, other)[1]) < tolerance;
  while (to - from > 1 && areLevel(from, from + 1)) from += 1;
  while (to - from > 1 && areLevel(to - 1, to - 2)) to -= 1;
  return points.slice(from, to);
}

/** Below what a probability is worth telling: the points were worked out in doubles. */
const tolerance = 1e-12;

function isStraight(points: Curve, index: number): boolean {
  if (index === 0 || index === points.length - 1) return false;
  const [ms, here] = itemAt(points, index);
  const around = [itemAt(points, index - 1), itemAt(points, index + 1)];
  return Math.abs(valueAt(around, ms) - here) < tolerance;
}
