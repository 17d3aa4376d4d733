// Intervals of rates whose events do not come one by one: counts of bursts, or expected counts of a log over every
// phase. The sum is matched by a gamma distribution with its mean and variance (Fay & Feuer, Stat. Med. 16 (1997) 791).
// Of plain counts, whose variance is their sum, that is the exact Poisson interval (Garwood).
import jStat from 'jstat';
import { invariant } from '../base/index.js';
import type { Estimated } from './intervals.js';

/** A sum of what was seen, with what is known of how it would vary. */
export interface WeightedSum {
  readonly sum: number;
  /** Of the sum, not of its parts. */
  readonly variance: number;
  /** What one more event would have added. */
  readonly one: number;
}

/** @param exposure what the sum is divided by, such as years. */
export function weightedRate(
  { sum, variance, one }: WeightedSum,
  exposure: number,
  confidence: number,
): Estimated {
  invariant(exposure > 0 && sum >= 0 && variance >= 0, 'a sum is over some time', {
    exposure,
    sum,
  });
  const doubt = 1 - confidence;
  if (sum === 0) {
    return { kind: 'at-most', low: 0, high: (one * -Math.log(doubt)) / exposure };
  }
  const scale = Math.max(variance, Number.EPSILON) / sum;
  const above = (variance + one * one) / (sum + one);
  const low = scale * quantile(doubt / 2, sum / scale);
  return {
    kind: 'interval',
    // So far below the sum it is no more than 0.
    low: low < 1e-6 * sum ? 0 : low / exposure,
    high: (above * quantile(1 - doubt / 2, (sum + one) / above)) / exposure,
  };
}

/** Of a large shape the gamma is as good as normal, and the package's search takes long or fails. */
const largeShape = 1e6;

function quantile(probability: number, shape: number): number {
  if (shape < 1e-3) return probability > 0.5 ? jStat.gammapinv(probability, 1e-3) : 0;
  if (shape <= largeShape) return jStat.gammapinv(probability, shape);
  // Wilson and Hilferty 1931: the cube root of a gamma is nearly normal.
  const z = probability > 0.5 ? zOf(probability) : -zOf(1 - probability);
  return shape * (1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape))) ** 3;
}

/** The standard normal quantile of a share over a half, from a gamma of a shape that is exact: z² / 2 has shape 1/2. */
function zOf(probability: number): number {
  return Math.sqrt(2 * jStat.gammapinv(2 * probability - 1, 0.5));
}
