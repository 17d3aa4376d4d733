// Durations fitted: lognormal or exponential, whichever makes what was logged likelier; a few are taken as they are.

import { trueMs } from '../../base/index.js';
import { mostDrawn } from '../../model/index.js';
import type { DurationDistribution } from '../types.js';
import { exponential, logarithm } from './portable-math.js';

export interface DurationFit {
  readonly distribution: DurationDistribution;
  readonly count: number;
  /**
   * How far off it is: the greatest difference, over all lengths, between the share of openings up to that length
   * in the log and in the fit (Kolmogorov–Smirnov). 0 where the log's own durations are drawn from.
   */
  readonly worstGap: number;
  /** What chance alone leaves, 19 times of 20, with so many openings: about 1.36 / √n. */
  readonly chanceGap: number;
}

/** Fewer say nothing of the shape of a distribution. */
const fewestToFit = 5;

/** @param keep takes them as they are, however many. @returns null for no durations at all. */
export function fitDurations(durations: readonly number[], keep: boolean): DurationFit | null {
  const count = durations.length;
  if (count === 0) return null;
  const sorted = durations.toSorted((a, b) => a - b);
  const distribution = keep || count < fewestToFit ? asLogged(sorted) : likelier(sorted);
  return {
    distribution,
    count,
    worstGap: worstGapOf(sorted, distribution),
    chanceGap: Math.min(1, 1.36 / Math.sqrt(count)),
  };
}

function asLogged(sorted: readonly number[]): DurationDistribution {
  const step = Math.max(1, Math.ceil(sorted.length / mostDrawn));
  const ms = sorted.filter((_, index) => index % step === 0).map((one) => trueMs(one));
  return { kind: 'drawn', ms };
}

/** By Akaike's criterion: a second parameter has to earn its place. */
function likelier(sorted: readonly number[]): DurationDistribution {
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

function worstGapOf(sorted: readonly number[], distribution: DurationDistribution): number {
  return sorted.reduce((worst, ms, index) => {
    const share = shareUpTo(distribution, ms);
    if (share === null) return 0;
    const [before, after] = [index / sorted.length, (index + 1) / sorted.length];
    return Math.max(worst, Math.abs(share - before), Math.abs(share - after));
  }, 0);
}

/** Null: the fit is the log itself, or all are alike. */
function shareUpTo(distribution: DurationDistribution, ms: number): number | null {
  switch (distribution.kind) {
    case 'exponential':
      return 1 - exponential(Math.max(-700, -ms / distribution.meanMs));
    case 'lognormal':
      return normalShare((logarithm(ms) - logarithm(distribution.medianMs)) / distribution.sigma);
    case 'fixed':
    case 'drawn':
      return null;
  }
}

/** The share of a standard normal below z: Abramowitz and Stegun 26.2.17, from memory; within 7.5e-8. */
function normalShare(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series =
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (exponential(Math.max(-700, (-z * z) / 2)) / Math.sqrt(2 * Math.PI)) * series;
  return z > 0 ? 1 - tail : tail;
}
