// Whether years drawn from a profile have as many openings as the days of the log that it was fitted to would make. How much
// the days differ gives the interval of the log: a door that is used alike each day leaves little to chance.
import { type Interval, studentQuantile } from './intervals.js';

/** Openings that began on each day of a log. */
export interface DailyOpenings {
  readonly weekdays: readonly number[];
  readonly weekendDays: readonly number[];
}

export interface OpeningsAgreement extends Interval {
  /** Per year of days as in the log, 5 weekdays and 2 weekend days in each week; its interval is from how its days differ. */
  readonly logged: number;
  readonly drawn: number;
  /** Where the average of more drawn years may lie. */
  readonly drawnRange: Interval;
  /** False: they differ by more than chance, and by more than a little. */
  readonly agrees: boolean;
}

/** With fewer openings a log shows too little of how many there are. */
const fewestOpenings = 20;
/** With fewer degrees of freedom, days that happen to be alike are taken to differ as single openings would (Poisson). */
const fewDegrees = 5;
/** A smaller difference matters to no estimate, even where the log is so regular that chance does not explain it. */
const littleMore = 1.1;
const weeksAYear = 365 / 7;

/**
 * Of each kind of day the count is Poisson but for one common dispersion φ, which Pearson's χ² of the days gives
 * (McCullagh and Nelder, Generalized Linear Models, 1989, on over-dispersion); the interval is Student's t.
 * @param drawn openings of each drawn year. @returns null where the log has too few days or openings to say.
 */
export function openingsAgreement(
  { weekdays, weekendDays }: DailyOpenings,
  drawn: readonly number[],
  confidence: number,
): OpeningsAgreement | null {
  const kinds = [weekdays, weekendDays].filter((days) => days.length > 0);
  const degrees = weekdays.length + weekendDays.length - kinds.length;
  if (degrees < 1 || sumOf([...weekdays, ...weekendDays]) < fewestOpenings) return null;
  const chi = sumOf(kinds.map(pearson));
  const dispersion = Math.max(chi / degrees, degrees < fewDegrees ? 1 : 0);
  // To a profile of a log with only one kind of day all days are alike.
  const weights = kinds.length === 1 ? [7] : [5, 2];
  const logged = weeksAYear * sumOf(kinds.map((days, at) => (weights[at] ?? 0) * meanOf(days)));
  const variance = sumOf(
    kinds.map((days, at) => ((weights[at] ?? 0) ** 2 * dispersion * meanOf(days)) / days.length),
  );
  const half =
    weeksAYear * Math.sqrt(variance) * studentQuantile(1 - (1 - confidence) / 2, degrees);
  const [low, high] = [Math.max(0, logged - half), logged + half];
  const mean = meanOf(drawn);
  const drawnRange = rangeOf(drawn, confidence);
  const isClose = mean <= littleMore * logged && logged <= littleMore * mean;
  return {
    logged,
    low,
    high,
    drawn: mean,
    drawnRange,
    agrees: isClose || (drawnRange.low <= high && drawnRange.high >= low),
  };
}

/** The mean of years as drawn, at least as uncertain as that of single openings. */
function rangeOf(years: readonly number[], confidence: number): Interval {
  const mean = meanOf(years);
  const degrees = Math.max(1, years.length - 1);
  const spread = sumOf(years.map((count) => (count - mean) ** 2)) / degrees;
  const error = Math.sqrt(Math.max(spread, mean) / years.length);
  const half = error * studentQuantile(1 - (1 - confidence) / 2, degrees);
  return { low: Math.max(0, mean - half), high: mean + half };
}

function pearson(days: readonly number[]): number {
  const mean = meanOf(days);
  return mean === 0 ? 0 : sumOf(days.map((count) => (count - mean) ** 2)) / mean;
}

function meanOf(values: readonly number[]): number {
  return values.length === 0 ? 0 : sumOf(values) / values.length;
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
