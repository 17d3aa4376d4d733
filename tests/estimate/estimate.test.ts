// Tallies, estimates and precision.
import { describe, expect, it } from 'vitest';
import { emptyTally, estimateOf, relativePrecision } from '../../src/estimate/index.js';
import { builtInProfile } from '../../src/scenarios/index.js';
import { steadyUse, tallyOf, yearSource } from './drawn-years.js';

const minute = 60_000;

function store() {
  const profile = builtInProfile('flower-store') ?? steadyUse(1, minute);
  const outages = { perYear: 12, meanMs: 30 * minute };
  return yearSource(3 * minute, { profile, leaveOpenAfterMs: 3 * minute, habits: { outages } });
}

describe('a tally', () => {
  it('is the same whichever process counted which years, and in whatever order they are joined', () => {
    const whole = tallyOf(store(), [0, 12]);
    expect(tallyOf(store(), [7, 12], [0, 3], [3, 7])).toEqual(whole);
    expect(whole.years).toBe(12);
    expect(whole.counts.falseAlarms).toBeGreaterThan(0);
  });

  it('gives every leave-open one outcome, and every reported or late one a delay', () => {
    const { counts, delays } = tallyOf(store(), [0, 5]);
    const { leaveOpens, reported, late, missed, undecided } = counts;
    expect(reported + late + missed + undecided).toBe(leaveOpens);
    expect([...delays.values()].reduce((sum, count) => sum + count, 0)).toBe(reported + late);
  });

  it('differs with the seed and with the year', () => {
    const source = store();
    expect(tallyOf(source, [0, 1])).not.toEqual(tallyOf(source, [1, 2]));
    const other = { ...source, seed: '2' };
    expect(tallyOf(other, [0, 1])).toEqual(tallyOf(source, [0, 1]));
  });
});

describe('an estimate', () => {
  it('shows delays in order, between the shortest and the worst, and all of them in its histogram', () => {
    const { delays } = estimateOf(tallyOf(store(), [0, 10]), 0.95);
    const percentiles = delays.percentiles.map(({ ms }) => ms ?? 0);
    expect([...percentiles].sort((a, b) => a - b)).toEqual(percentiles);
    expect(percentiles[0]).toBeGreaterThanOrEqual(delays.leastMs ?? 0);
    expect(percentiles.at(-1)).toBeLessThanOrEqual(delays.worstMs ?? 0);
    expect(delays.histogram.reduce((sum, { count }) => sum + count, 0)).toBe(delays.count);
    for (const { fromMs, toMs } of delays.histogram) {
      expect(toMs - fromMs).toBeLessThanOrEqual(Math.max(1, fromMs / 512));
    }
  });

  it('of a door that is never left open knows nothing of shares and bounds the rest', () => {
    const source = yearSource(3 * minute, {
      profile: steadyUse(4, 5_000),
      leaveOpenAfterMs: 60 * minute,
      watch: { escalationThreshold: { open: 4, outOf: 4 } },
    });
    const { shares, rates, delays } = estimateOf(tallyOf(source, [0, 20]), 0.95);
    expect(shares.missed).toEqual({
      count: 0,
      of: 0,
      share: null,
      kind: 'interval',
      low: 0,
      high: 1,
    });
    expect(rates.falseAlarms).toMatchObject({ count: 0, perYear: 0, kind: 'at-most', low: 0 });
    expect(rates.falseAlarms.high).toBeCloseTo(3 / 20, 2);
    expect(delays.percentiles.every(({ ms }) => ms === null)).toBe(true);
  });

  it('sees that events come one by one, or in bursts', () => {
    const single = emptyTally();
    single.years = 4;
    single.counts.repeats = 40;
    single.squares.repeats = 4 * 100;
    expect(estimateOf(single, 0.95).rates.repeats.dispersion).toBe(0);
    // All in one year: 40 ± 20 a year around a mean of 10.
    single.squares.repeats = 1_600;
    expect(estimateOf(single, 0.95).rates.repeats.dispersion).toBeCloseTo(40, 9);
    single.counts.repeats = 9;
    expect(estimateOf(single, 0.95).rates.repeats.dispersion).toBeNull();
  });
});

describe('precision', () => {
  it('is half the interval over the estimate, and infinite while nothing was seen', () => {
    const tally = tallyOf(store(), [0, 10]);
    const { falseAlarms } = estimateOf(tally, 0.9).rates;
    const half = (falseAlarms.high - falseAlarms.low) / 2;
    expect(relativePrecision(tally, 'falseAlarms', 0.9)).toBeCloseTo(
      half / falseAlarms.perYear,
      12,
    );
    const { missed } = estimateOf(tally, 0.9).shares;
    expect(relativePrecision(tally, 'missed-share', 0.9)).toBeCloseTo(
      (missed.high - missed.low) / 2 / (missed.share ?? 0),
      12,
    );
    expect(relativePrecision(tally, 'late', 0.9)).toBe(Number.POSITIVE_INFINITY);
  });
});
