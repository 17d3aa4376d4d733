// Exact confidence intervals. Clopper–Pearson for a share: the p at which the tail that was seen has probability α/2,
// which is a quantile of the beta distribution. The same for a Poisson count, which is one of the gamma distribution.
import jStat from 'jstat';
import { invariant } from '../base/index.js';

/** From least to greatest, both included. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** An interval, or at an end of the scale a bound: then all the doubt is on one side. */
export interface Estimated extends Interval {
  /** Neither: an interval with half the doubt on each side. */
  readonly kind: 'interval' | 'at-most' | 'at-least';
}

/**
 * The exact two-sided interval of a share (Clopper–Pearson).
 * @param confidence such as 0.95, over 0 and below 1.
 */
export function shareInterval(count: number, of: number, confidence: number): Interval {
  checkCounts(count, of, confidence);
  return effectiveShare(count, of, confidence);
}

/** The same for effective counts, which need not be whole. */
export function effectiveShare(count: number, of: number, confidence: number): Interval {
  invariant(count >= 0 && count <= of && of > 0, 'a count is within its whole', { count, of });
  const tail = (1 - confidence) / 2;
  return { low: shareLow(count, of, tail), high: shareHigh(count, of, tail) };
}

/** The exact two-sided interval of the mean of a Poisson count (Garwood). */
export function countInterval(count: number, confidence: number): Interval {
  checkCounts(count, count, confidence);
  const tail = (1 - confidence) / 2;
  return {
    low: count === 0 ? 0 : jStat.gammapinv(tail, count),
    high: jStat.gammapinv(1 - tail, count + 1),
  };
}

/**
 * What is known of a share. None in n gives the bound of the rule of three, 1 − (1 − confidence)^(1/n), about 3/n at
 * 95 %; all of n likewise from below. Of nothing nothing is known.
 */
export function estimatedShare(count: number, of: number, confidence: number): Estimated {
  checkCounts(count, of, confidence);
  const doubt = 1 - confidence;
  if (of === 0) return { kind: 'interval', low: 0, high: 1 };
  if (count === 0) return { kind: 'at-most', low: 0, high: shareHigh(0, of, doubt) };
  if (count === of) return { kind: 'at-least', low: shareLow(count, of, doubt), high: 1 };
  return { kind: 'interval', ...shareInterval(count, of, confidence) };
}

/** What is known of a rate of which `count` were seen in `years`; none gives −ln(1 − confidence) / years. */
export function estimatedRate(count: number, years: number, confidence: number): Estimated {
  invariant(years > 0, 'a rate is over some time', { years });
  if (count === 0) return { kind: 'at-most', low: 0, high: -Math.log(1 - confidence) / years };
  const { low, high } = countInterval(count, confidence);
  return { kind: 'interval', low: low / years, high: high / years };
}

/** How much wider an interval is for a standard deviation that was measured with so few degrees of freedom. */
export function studentOverNormal(degrees: number, confidence: number): number {
  if (degrees > 1_000) return 1;
  const tail = 1 - (1 - confidence) / 2;
  return studentQuantile(tail, degrees) / studentQuantile(tail, 1e6);
}

/** The quantile of Student's t, above the median, by the incomplete beta function (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1): pages carry no more of the package. */
export function studentQuantile(probability: number, degrees: number): number {
  const x = jStat.ibetainv(2 * (1 - probability), degrees / 2, 0.5);
  return Math.sqrt((degrees * (1 - x)) / x);
}

function checkCounts(count: number, of: number, confidence: number): void {
  const counts = Number.isSafeInteger(count) && Number.isSafeInteger(of) && count >= 0;
  invariant(counts && count <= of, 'a count is whole and within its whole', { count, of });
  invariant(confidence > 0 && confidence < 1, 'a confidence is a share', { confidence });
}

function shareLow(count: number, of: number, tail: number): number {
  // The end cases in closed form: there the quantile search has the least to hold on to.
  if (count === 0) return 0;
  return count === of ? tail ** (1 / of) : jStat.ibetainv(tail, count, of - count + 1);
}

function shareHigh(count: number, of: number, tail: number): number {
  if (count === of) return 1;
  return count === 0
    ? -Math.expm1(Math.log(tail) / of)
    : jStat.ibetainv(1 - tail, count + 1, of - count);
}
