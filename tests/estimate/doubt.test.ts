// What a log of limited length leaves open of its profile, in the intervals: on invented tallies, whose resamples are known.
import { describe, expect, it } from 'vitest';
import { emptyTally, estimateOf, type Tally, withEvidence } from '../../src/estimate/index.js';

/** Years with as many missed each, out of ten leave-opens, and one delay. */
function tallyOf(years: number, missedEach: number, delayMs = 1_000): Tally {
  const tally = emptyTally();
  tally.years = years;
  tally.counts.leaveOpens = 10 * years;
  tally.counts.missed = missedEach * years;
  tally.counts.reported = tally.counts.leaveOpens - tally.counts.missed;
  tally.squares.missed = missedEach ** 2 * years;
  tally.decided.squares = 100 * years;
  tally.decided.missed = 10 * missedEach * years;
  tally.delays.set(delayMs, tally.counts.reported);
  tally.leastDelayMs = delayMs;
  tally.worstDelayMs = delayMs;
  return tally;
}

const own = tallyOf(1_000, 4);
const others = (years: number) => Array.from({ length: 40 }, (_, row) => tallyOf(years, row % 8));

describe('the interval of a rate', () => {
  it('includes the profiles that other samples of the log would have led to', () => {
    const { missed } = estimateOf(own, 0.95, others(25)).rates;
    const alone = estimateOf(own, 0.95).rates.missed;
    // The resamples miss 0 to 7 per year: a standard deviation of 2.3.
    expect(missed.high).toBeGreaterThan(8);
    expect(missed.low).toBeLessThan(1.2);
    expect(alone.high - alone.low).toBeLessThan(0.3);
  });

  it('is wider where the resamples have too few years to show how they differ', () => {
    const alike = (years: number) => Array.from({ length: 40 }, () => tallyOf(years, 4));
    const width = (years: number): number => {
      const { low, high } = estimateOf(own, 0.95, alike(years)).rates.missed;
      return high - low;
    };
    expect(width(1)).toBeGreaterThanOrEqual(width(25));
  });

  it('reaches what only the resamples know of', () => {
    const { missed } = estimateOf(tallyOf(1_000, 0), 0.95, others(25)).rates;
    expect(missed.kind).toBe('at-most');
    expect(missed.high).toBeGreaterThan(7);
  });
});

describe('the interval of a share and of a percentile', () => {
  it('includes the resamples', () => {
    const { missed } = estimateOf(own, 0.95, others(25)).shares;
    expect(missed.share).toBe(0.4);
    expect(missed.low).toBeLessThan(0.15);
    expect(missed.high).toBeGreaterThan(0.75);
  });

  it('reaches from the least to the greatest of 40 resamples', () => {
    const rows = Array.from({ length: 40 }, (_, row) => tallyOf(25, 4, 500 + 10 * row));
    const median = estimateOf(own, 0.95, rows).delays.percentiles.find(
      ({ percent }) => percent === 50,
    );
    expect(median?.lowMs).toBe(500);
    expect(median?.highMs).toBeGreaterThanOrEqual(1_000);
  });
});

describe('a log without a leave-open', () => {
  const none = estimateOf(tallyOf(1_000, 0), 0.95);
  it('leaves open -ln 0.05 of them in its days', () => {
    const { missed } = withEvidence(none, { days: 27, leaveOpens: 0 }).rates;
    expect(missed.high).toBeCloseTo((2.995732 * 365) / 27, 4);
  });

  it('counts for less than what somebody wrote into the profile', () => {
    const { missed } = withEvidence(none, { days: 27, leaveOpens: 0, isWritten: true }).rates;
    expect(missed).toEqual(none.rates.missed);
  });
});

describe('a log of few days', () => {
  const quiet = estimateOf(tallyOf(1_000, 4), 0.95);
  const ruleOfThree = (2.995732 * 365) / 27;

  it('cannot show that false alarms are rarer than the rule of three', () => {
    const { rates } = withEvidence(quiet, { days: 27, openings: 400, leaveOpens: 3 });
    expect(quiet.rates.falseAlarms.high).toBeLessThan(0.01);
    expect(rates.falseAlarms.high).toBeCloseTo(ruleOfThree, 4);
    expect(rates.missed.high).toBeCloseTo(quiet.rates.missed.high, 9);
  });

  it('leaves everything open when it is too short, also the share of one leave-open', () => {
    const few = withEvidence(quiet, { days: 27, openings: 8, leaveOpens: 1 });
    expect(few.rates.missed.high).toBeCloseTo(ruleOfThree, 4);
    expect(few.shares.missed.high).toBeCloseTo(0.95, 9);
  });

  it('limits what happens once a leave-open by the leave-opens, of which clusters show fewer', () => {
    const wide = { ...quiet.rates.missed, high: 1e6 };
    const open = { ...quiet, rates: { ...quiet.rates, missed: wide, earlyAlerts: wide } };
    const high = (leaveOpensApart: number): number => {
      const evidence = { days: 365, openings: 400, leaveOpens: 10, leaveOpensApart };
      const { rates, leaveOpens } = withEvidence(open, evidence);
      expect(rates.missed.high).toBe(leaveOpens.high);
      expect(rates.earlyAlerts.high).toBe(leaveOpens.high);
      return leaveOpens.high;
    };
    // Garwood: 10 in a year are 4.795 to 18.39.
    expect(high(10)).toBeCloseTo(18.3904, 3);
    expect(high(5)).toBeGreaterThan(22);
    expect(withEvidence(open, null).rates.missed.high).toBe(open.leaveOpens.high);
  });
});
