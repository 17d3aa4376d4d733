// Durations fitted: lognormal or exponential, whichever makes what was logged likelier, unless both are off by more than
// chance; then, and where there are few, the log's own durations are drawn from.

import { trueMs } from '../../base/index.js';
import { mostDrawn } from '../../model/index.js';
import type { DurationDistribution } from '../types.js';
import { chanceDistance, distanceOf, type FittedKind, shareOf } from './goodness.js';
import { exponential, logarithm } from './portable-math.js';

export interface DurationFit {
  readonly distribution: DurationDistribution;
  readonly count: number;
  /**
   * How far off the fitted distribution is: the greatest difference, over all lengths, between the share of openings
   * up to that length in the log and in the fit (Kolmogorov–Smirnov). 0 where none was fitted.
   */
  readonly worstGap: number;
  /** What chance alone leaves, 19 times of 20, of a fit to this many openings. */
  readonly chanceGap: number;
  /** The distribution that is off by more than chance, so that the log's own durations are drawn; null: none is. */
  readonly rejected: FittedKind | null;
}

/** Fewer say nothing of the shape of a distribution. */
const fewestToFit = 5;

/** @param keep takes them as they are, however many. @returns null for no durations at all. */
export function fitDurations(durations: readonly number[], keep: boolean): DurationFit | null {
  const count = durations.length;
  if (count === 0) return null;
  const sorted = durations.toSorted((a, b) => a - b);
  const none = { count, worstGap: 0, chanceGap: 1, rejected: null };
  if (keep || count < fewestToFit) return { ...none, distribution: asLogged(sorted) };
  const likely = likelier(sorted);
  if (likely.kind === 'fixed') return { ...none, distribution: likely };
  const worstGap = worstGapOf(sorted, likely.kind);
  const chanceGap = chanceDistance(likely.kind, count);
  if (worstGap <= chanceGap) {
    return { count, distribution: likely, worstGap, chanceGap, rejected: null };
  }
  return { count, distribution: asLogged(sorted), worstGap, chanceGap, rejected: likely.kind };
}

/** @param sorted ascending. */
export function asLogged(sorted: readonly number[]): DurationDistribution {
  const step = Math.max(1, Math.ceil(sorted.length / mostDrawn));
  const ms = sorted.filter((_, index) => index % step === 0).map((one) => trueMs(one));
  return { kind: 'drawn', ms };
}

/** By Akaike's criterion: a second parameter has to earn its place. */
function likelier(
  sorted: readonly number[],
): Exclude<DurationDistribution, { readonly kind: 'drawn' }> {
  const count = sorted.length;
  const logs = sorted.map(logarithm);
  const mean = sorted.reduce((sum, ms) => sum + ms, 0) / count;
  const meanLog = logs.reduce((sum, log) => sum + log, 0) / count;
  const sigma = Math.sqrt(logs.reduce((sum, log) => sum + (log - meanLog) ** 2, 0) / count);
  const meanMs = trueMs(Math.max(1, Math.round(mean)));
  if (sigma < 0.001) return { kind: 'fixed', ms: meanMs };
  const lognormal = -count * (meanLog + logarithm(sigma) + 0.5 * logarithm(2 * Math.PI) + 0.5);
  const exponentially = -count * (logarithm(mean) + 1);
  if (exponentially - 1 > lognormal - 2) return { kind: 'exponential', meanMs };
  const medianMs = trueMs(Math.max(1, Math.round(exponential(meanLog))));
  return { kind: 'lognormal', medianMs, sigma: Math.min(5, Number(sigma.toPrecision(4))) };
}

function worstGapOf(sorted: readonly number[], kind: FittedKind): number {
  const values = Float64Array.from(sorted, (ms) => (kind === 'lognormal' ? logarithm(ms) : ms));
  return distanceOf(values, shareOf(kind, values));
}
