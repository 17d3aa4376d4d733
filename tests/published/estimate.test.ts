// Intervals and rates against published figures, and the Monte-Carlo against what can be worked out by hand.
import cephes from 'cephes';
import { describe, expect, it } from 'vitest';
import { estimatedShare, estimateOf, shareInterval } from '../../src/estimate/index.js';
import { steadyUse, tallyOf, yearSource } from '../estimate/drawn-years.js';

await cephes.compiled;

describe('exact intervals of a share', () => {
  it('4 of 20 at 90 %: NIST/SEMATECH e-Handbook 7.2.4.1 (from memory)', () => {
    const { low, high } = shareInterval(4, 20, 0.9);
    // Printed with six digits, of which the last may be cut or rounded.
    expect(Math.abs(low - 0.071354)).toBeLessThan(1e-6);
    expect(Math.abs(high - 0.401029)).toBeLessThan(1e-6);
  });

  it.each([
    [81, 263, 0.2527, 0.3676],
    [15, 148, 0.0578, 0.1617],
    [0, 20, 0, 0.1684],
  ])(
    '%i of %i at 0.95: Newcombe, Stat. Med. 17 (1998) 857 (from memory)',
    (count, of, low, high) => {
      const interval = shareInterval(count, of, 0.95);
      expect(interval.low).toBeCloseTo(low, 4);
      expect(interval.high).toBeCloseTo(high, 4);
    },
  );
});

// The reference library is Cephes (S. Moshier, netlib), compiled from its C: the quantile of the beta distribution is
// its inverse of the incomplete beta integral. Clopper and Pearson's limits are two such quantiles.
describe("Cephes's beta quantile", () => {
  it.each(
    [0.8, 0.9, 0.95, 0.99].flatMap((confidence) =>
      [
        [1, 7],
        [4, 20],
        [15, 148],
        [81, 263],
        [262, 263],
        [3, 400],
        [57, 33_987],
        [5, 3_000_000],
      ].map(([count = 0, of = 0]) => [count, of, confidence] as const),
    ),
  )('gives the exact limits of %i of %i at %f', (count, of, confidence) => {
    const tail = (1 - confidence) / 2;
    const { low, high } = shareInterval(count, of, confidence);
    const wanted = {
      low: cephes.incbi(count, of - count + 1, tail),
      high: cephes.incbi(count + 1, of - count, 1 - tail),
    };
    expect(low / wanted.low).toBeCloseTo(1, 8);
    expect(high / wanted.high).toBeCloseTo(1, 8);
  });
});

// Hanley & Lippman-Hand, JAMA 249 (1983); Jovanovic & Levy, Am. Stat. 51 (1997).
describe('the rule of three', () => {
  it('299 trials without a failure are the fewest that show at most 1 % with 95 % confidence; 2995 for 0.1 %', () => {
    expect(estimatedShare(0, 299, 0.95).high).toBeLessThanOrEqual(0.01);
    expect(estimatedShare(0, 298, 0.95).high).toBeGreaterThan(0.01);
    expect(estimatedShare(0, 2_995, 0.95).high).toBeLessThanOrEqual(0.001);
    expect(estimatedShare(0, 2_994, 0.95).high).toBeGreaterThan(0.001);
  });

  it('none in 100 is at most 0.029513, of which 3/n is a little more', () => {
    const { kind, high } = estimatedShare(0, 100, 0.95);
    expect(kind).toBe('at-most');
    expect(high).toBeCloseTo(0.029513, 6);
    expect(high).toBeLessThan(3 / 100);
  });
});

describe('false alarms from brief openings', () => {
  // Worked: a check reads open with p = 1 − exp(−35 × 10 s / 86,400 s), and an alarm takes two in a row.
  it('are about 1.7 a year at 35 openings of 10 s a day, a check every 300 s, two open checks', () => {
    const years = 200;
    const source = yearSource(300_000, {
      profile: steadyUse(35, 10_000),
      leaveOpenAfterMs: 60_000,
    });
    const { falseAlarms } = estimateOf(tallyOf(source, [0, years]), 0.95).rates;
    const p = 1 - Math.exp((-35 * 10) / 86_400);
    const worked = ((365 * 86_400) / 300) * p * p;
    expect(worked).toBeCloseTo(1.7, 1);
    expect(falseAlarms.low).toBeLessThan(worked);
    expect(falseAlarms.high).toBeGreaterThan(worked);
    expect(falseAlarms.perYear).toBeCloseTo(1.7, 0);
  });
});

describe('the Monte-Carlo and the exact detection curve', () => {
  const periodMs = 300_000;
  const runs = 300;
  const least = 0.93 * runs;

  // Elementary geometry: at least m checks in an opening of d at a uniform phase: clamp((d − (m − 1) T) / T, 0, 1).
  it.each([
    [330_000, 0.1],
    [450_000, 0.5],
    [570_000, 0.9],
  ])(
    'openings of %i ms are reported with probability %f: inside the interval at 0.95 in at least 93 of 100 runs, over 300',
    (lengthMs, worked) => {
      const inside = Array.from({ length: runs }, (_, run) => {
        const source = yearSource(periodMs, {
          profile: steadyUse(1, lengthMs),
          leaveOpenAfterMs: lengthMs,
          seed: `run ${String(run)}`,
        });
        const { missed } = estimateOf(tallyOf(source, [0, 1]), 0.95).shares;
        return missed.low <= 1 - worked && 1 - worked <= missed.high;
      });
      expect(inside.filter(Boolean).length).toBeGreaterThanOrEqual(least);
    },
  );

  it('at 299 s only one that follows another between two checks can be reported, from 600 s on everything is', () => {
    const years = 20;
    const sourceOf = (lengthMs: number) =>
      yearSource(periodMs, { profile: steadyUse(0.05, lengthMs), leaveOpenAfterMs: lengthMs });
    const missedOf = (lengthMs: number) =>
      estimateOf(tallyOf(sourceOf(lengthMs), [0, years]), 0.95).shares.missed;
    let followers = 0;
    for (let year = 0; year < years; year += 1) {
      const { fromMs, toMs } = sourceOf(299_000).worldOf(year).openings;
      followers += fromMs.filter((from, index) => from - (toMs[index - 1] ?? 0) < periodMs).length;
    }
    const short = missedOf(299_000);
    expect(short.of).toBeGreaterThan(200);
    expect(followers).toBeLessThan(short.of / 50);
    expect(short.of - short.count).toBeLessThanOrEqual(followers);
    expect(missedOf(600_000)).toMatchObject({ kind: 'at-most', count: 0 });
  });
});
