// The standard normal distribution from + − × ÷ and the portable exponential alone.
import { exponential } from './portable-math.js';
import { quickExponential, quickLogarithm } from './quick-math.js';

/** The share of a standard normal below z: Abramowitz and Stegun 26.2.17, from memory; within 7.5e-8. */
export function normalShare(z: number): number {
  const tail = seriesAt(z) * (exponential(Math.max(-700, (-z * z) / 2)) / Math.sqrt(2 * Math.PI));
  return z > 0 ? 1 - tail : tail;
}

/** The same for draws by the million; beyond 8.9 standard deviations it is 0 or 1. */
export function quickNormalShare(z: number): number {
  if (Math.abs(z) > 8.9) return z > 0 ? 1 : 0;
  const tail = seriesAt(z) * (quickExponential((-z * z) / 2) / Math.sqrt(2 * Math.PI));
  return z > 0 ? 1 - tail : tail;
}

function seriesAt(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  return (
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  );
}

/** The z below which this share of a standard normal lies: bisection of the above, to 1e-9. */
export function normalScore(share: number): number {
  let [low, high] = [-8, 8];
  for (let step = 0; step < 36; step += 1) {
    const middle = (low + high) / 2;
    if (normalShare(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The same for draws by the million: Abramowitz and Stegun 26.2.23, from memory; within 4.5e-4. */
export function quickNormalScore(share: number): number {
  const tail = Math.max(2 ** -60, Math.min(share, 1 - share));
  const t = Math.sqrt(-2 * quickLogarithm(tail));
  const score =
    t -
    (2.515517 + t * (0.802853 + t * 0.010328)) /
      (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  return share > 0.5 ? score : -score;
}
