// What a profile fitted to a log of limited length leaves open: years drawn from profiles that other samples of the same
// door would have led to. How their rates differ, beyond what so few years differ by chance, widens each interval.
import { itemAt } from '../base/index.js';
import { mostResampledYears } from '../model/index.js';
import { delayPercentile } from './delays.js';
import type { EventName, Tally } from './tally.js';

/** Years of all resamples together, whatever the estimate itself has: with fewer, rare events say nothing of how the resamples differ. */
const fewestResampledYears = 200;

/** How many years each resample of a profile gets, for an estimate of this many years. */
export function yearsOfResample(years: number, resamples: number): number {
  if (resamples === 0) return 0;
  const all = Math.min(Math.max(years, fewestResampledYears), mostResampledYears);
  return Math.max(1, Math.round(all / resamples));
}

/** How far a figure varies between resamples, as a part of it; and its mean over them. */
export interface Spread {
  readonly mean: number;
  readonly relative: number;
}

/** Null: no resamples. */
export function rateSpread(resamples: readonly Tally[], name: EventName): Spread | null {
  return spreadOf(
    resamples.map(({ counts, squares, years }) => meanOf(counts[name], squares[name], years)),
  );
}

/** The same of leave-opens. */
export function leaveOpensSpread(resamples: readonly Tally[]): Spread | null {
  return spreadOf(
    resamples.map(({ counts, decided, years }) =>
      meanOf(counts.leaveOpens, decided.squares, years),
    ),
  );
}

function meanOf(count: number, squares: number, years: number) {
  return { value: count / years, chance: meanVariance(squares, count, years) };
}

/** Of the leave-opens decided, the share missed or late. */
export function shareSpread(resamples: readonly Tally[], name: 'missed' | 'late'): Spread | null {
  return spreadOf(
    resamples.flatMap(({ counts }) => {
      const of = counts.leaveOpens - counts.undecided;
      if (of === 0) return [];
      const value = counts[name] / of;
      return [{ value, chance: (value * (1 - value)) / of }];
    }),
  );
}

/**
 * The least and the greatest delay that this share of all do not exceed, over the resamples: of 40 a new one lies outside
 * in 2 of 41, whatever their distribution (order statistics). For another confidence as many are left out at each end.
 */
export function delayRange(
  resamples: readonly Tally[],
  share: number,
  confidence: number,
): { readonly leastMs: number; readonly mostMs: number } | null {
  const values = resamples
    .map(({ delays }) => delayPercentile(delays, share))
    .filter((value) => value !== null)
    .sort((a, b) => a - b);
  if (values.length < 2) return null;
  const outside = Math.floor(((values.length + 1) * (1 - confidence)) / 2 + 1e-9) - 1;
  const at = Math.max(0, Math.min(outside, Math.floor((values.length - 1) / 2)));
  return { leastMs: itemAt(values, at), mostMs: itemAt(values, values.length - 1 - at) };
}

/** The variance of the mean of years, at least that of single events. */
function meanVariance(squares: number, count: number, years: number): number {
  if (years < 2) return count / years ** 2;
  const variance = (squares - count ** 2 / years) / (years - 1);
  return Math.max(variance, count / years) / years;
}

/**
 * What the resamples differ by beyond chance, and how little so few of them show of it: one standard error of their
 * variance is added, √(2 / (n − 1)) of it. Where chance hides how they differ, more years show it.
 */
function spreadOf(
  values: readonly { readonly value: number; readonly chance: number }[],
): Spread | null {
  const count = values.length;
  if (count < 2) return null;
  const mean = values.reduce((sum, { value }) => sum + value, 0) / count;
  if (mean === 0) return { mean, relative: 0 };
  const variance = values.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (count - 1);
  const chance = values.reduce((sum, one) => sum + one.chance, 0) / count;
  const beyond = Math.max(0, variance - chance) + variance * Math.sqrt(2 / (count - 1));
  return { mean, relative: Math.sqrt(beyond) / mean };
}
