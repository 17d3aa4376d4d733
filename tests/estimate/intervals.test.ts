// Exact intervals against the tails they are defined by, summed up term by term.
import { describe, expect, it } from 'vitest';
import {
  countInterval,
  estimatedRate,
  estimatedShare,
  shareInterval,
} from '../../src/estimate/index.js';

function logFactorial(n: number): number {
  let sum = 0;
  for (let k = 2; k <= n; k += 1) sum += Math.log(k);
  return sum;
}

/** P(at least `count` of `of`). */
function binomialTail(count: number, of: number, p: number): number {
  let sum = 0;
  for (let k = count; k <= of; k += 1) {
    const ways = logFactorial(of) - logFactorial(k) - logFactorial(of - k);
    sum += Math.exp(ways + k * Math.log(p) + (of - k) * Math.log1p(-p));
  }
  return sum;
}

/** P(at most `count`). */
function poissonHead(count: number, mean: number): number {
  let sum = 0;
  for (let k = 0; k <= count; k += 1) sum += Math.exp(k * Math.log(mean) - mean - logFactorial(k));
  return sum;
}

describe('the interval of a share', () => {
  it.each([
    [1, 7, 0.9],
    [4, 20, 0.9],
    [15, 148, 0.95],
    [81, 263, 0.95],
    [262, 263, 0.99],
    [3, 400, 0.999],
  ])('of %i of %i at %f leaves half the doubt in each tail', (count, of, confidence) => {
    const { low, high } = shareInterval(count, of, confidence);
    const doubt = (1 - confidence) / 2;
    expect(binomialTail(count, of, low)).toBeCloseTo(doubt, 8);
    expect(1 - binomialTail(count + 1, of, high)).toBeCloseTo(doubt, 8);
  });

  it('of few in millions is as narrow as its Poisson limit', () => {
    const share = shareInterval(5, 3_000_000, 0.95);
    const rate = countInterval(5, 0.95);
    expect(share.low * 3_000_000).toBeCloseTo(rate.low, 4);
    expect(share.high * 3_000_000).toBeCloseTo(rate.high, 4);
  });

  it('of none is a bound from above, of all one from below, of nothing everything', () => {
    expect(estimatedShare(0, 100, 0.95)).toMatchObject({ kind: 'at-most', low: 0 });
    expect(estimatedShare(100, 100, 0.95)).toMatchObject({ kind: 'at-least', high: 1 });
    expect(estimatedShare(100, 100, 0.95).low).toBeCloseTo(
      1 - estimatedShare(0, 100, 0.95).high,
      12,
    );
    expect(estimatedShare(0, 0, 0.95)).toEqual({ kind: 'interval', low: 0, high: 1 });
    expect(estimatedShare(1, 1, 0.95).low).toBeCloseTo(0.05, 12);
  });

  it('refuses counts that cannot be', () => {
    expect(() => shareInterval(3, 2, 0.95)).toThrow('within its whole');
    expect(() => shareInterval(1.5, 2, 0.95)).toThrow('whole');
    expect(() => shareInterval(1, 2, 1)).toThrow('confidence');
  });
});

describe('the interval of a rate', () => {
  it.each([
    [1, 0.95],
    [5, 0.9],
    [50, 0.99],
    [400, 0.95],
  ])('of %i events at %f leaves half the doubt in each tail', (count, confidence) => {
    const { low, high } = countInterval(count, confidence);
    const doubt = (1 - confidence) / 2;
    expect(1 - poissonHead(count - 1, low)).toBeCloseTo(doubt, 8);
    expect(poissonHead(count, high)).toBeCloseTo(doubt, 8);
  });

  it('of none is −ln(doubt) over the time', () => {
    const { kind, low, high } = estimatedRate(0, 1_000, 0.95);
    expect({ kind, low }).toEqual({ kind: 'at-most', low: 0 });
    expect(high).toBeCloseTo(0.002_995_732, 9);
    expect(() => estimatedRate(0, 0, 0.95)).toThrow('over some time');
  });

  it('is over years what it is of the count, divided by them', () => {
    const { low, high } = countInterval(12, 0.95);
    expect(estimatedRate(12, 8, 0.95)).toEqual({ kind: 'interval', low: low / 8, high: high / 8 });
  });
});
