// Whether lengths and gaps within visits depend on each other: correlations of their normal scores (ranks turned into
// quantiles of a standard normal), kept where they are too large for chance.
import { cellAt } from '../../base/index.js';
import { mostDependencePairs } from '../../model/index.js';
import type { Spans } from '../../world/index.js';
import type { VisitDependence } from '../types.js';
import { normalScore } from './normal-share.js';
import { logarithm } from './portable-math.js';

/** Fewer pairs show no dependence that could be believed. */
const fewestPairs = 12;
/** Two-sided 1.7 % for each of three correlations: 5 % for all (Bonferroni; z of a standard normal). */
const beyondChance = 2.39;
const strongest = 0.95;

/**
 * @param within for each gap, the probability that it lies within a visit.
 * @param isWhole 0: nobody saw all of it, so its length is not known; absent: all were seen.
 */
export function dependenceOf(
  openings: Spans,
  within: Float64Array,
  isWhole?: Uint8Array,
): VisitDependence | null {
  const isKnown = (index: number): boolean => isWhole?.[index] !== 0;
  const at: number[] = [];
  for (
    let index = 0;
    index + 1 < openings.fromMs.length && at.length < mostDependencePairs;
    index += 1
  ) {
    if (cellAt(within, index) > 0.5 && isKnown(index) && isKnown(index + 1)) at.push(index);
  }
  if (at.length < fewestPairs) return null;
  const lengthOf = (index: number): number =>
    cellAt(openings.toMs, index) - cellAt(openings.fromMs, index);
  const before = scores(at.map(lengthOf));
  const gaps = scores(
    at.map((index) => cellAt(openings.fromMs, index + 1) - cellAt(openings.toMs, index)),
  );
  const after = scores(at.map((index) => lengthOf(index + 1)));
  const [lengths, gapAfter, lengthAfter] = [
    shown(before, after),
    shown(before, gaps),
    shown(gaps, after),
  ];
  if (lengths === 0 && gapAfter === 0 && lengthAfter === 0) return null;
  return possible({ lengths, gapAfter, lengthAfter });
}

function scores(values: readonly number[]): Float64Array {
  const count = values.length;
  const order = values.map((value, index) => ({ value, index })).sort((a, b) => a.value - b.value);
  const found = new Float64Array(count);
  for (let from = 0; from < count; ) {
    let to = from;
    while (to + 1 < count && order[to + 1]?.value === order[from]?.value) to += 1;
    // Ties share the score of their middle rank.
    const score = normalScore(((from + to) / 2 + 0.5) / count);
    for (let rank = from; rank <= to; rank += 1) found[order[rank]?.index ?? 0] = score;
    from = to + 1;
  }
  return found;
}

/** 0 where chance alone often gives as much: by Fisher's transformation, whose standard error is 1/√(n − 3). */
function shown(xs: Float64Array, ys: Float64Array): number {
  let [xx, yy, xy] = [0, 0, 0];
  for (let index = 0; index < xs.length; index += 1) {
    const [x, y] = [cellAt(xs, index), cellAt(ys, index)];
    xx += x * x;
    yy += y * y;
    xy += x * y;
  }
  if (xx === 0 || yy === 0) return 0;
  const r = Math.max(-strongest, Math.min(strongest, xy / Math.sqrt(xx * yy)));
  const z = 0.5 * logarithm((1 + r) / (1 - r)) * Math.sqrt(xs.length - 3);
  return Math.abs(z) > beyondChance ? Number(r.toPrecision(2)) : 0;
}

/** Correlations that three numbers can have together: else all are shrunk until they can. */
function possible({ lengths, gapAfter, lengthAfter }: VisitDependence): VisitDependence {
  let factor = 1;
  for (let step = 0; step < 20; step += 1) {
    const [a, b, c] = [lengths * factor, gapAfter * factor, lengthAfter * factor];
    if (1 - a * a - b * b - c * c + 2 * a * b * c > 0.01) break;
    factor *= 0.95;
  }
  const shrunk = (value: number): number => Number((value * factor).toPrecision(2));
  return {
    lengths: shrunk(lengths),
    gapAfter: shrunk(gapAfter),
    lengthAfter: shrunk(lengthAfter),
  };
}
