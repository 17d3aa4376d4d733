// The choice among the best, step by step, on invented trials.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { estimatedRate, type Rate } from '../../src/estimate/index.js';
import { choose, type Trial } from '../../src/tune/index.js';

const dayMs = 86_400_000;
const years = 20;

function rate(count: number): Rate {
  const known = estimatedRate(count, years, 0.95);
  return { count, perYear: count / years, ...known, dispersion: null, profileSpread: null };
}

interface Made {
  readonly missed: number;
  readonly falseAlarms: number;
  readonly days: number;
  readonly worstMs: number;
}

function trial({ missed, falseAlarms, days, worstMs }: Made): Trial {
  const none = rate(0);
  const bounds = { sureFromMs: worstMs, worstDelayMs: worstMs, quietUpToMs: 0 };
  return {
    settings: {
      checkIntervalMs: deviceMs(60_000),
      recheckIntervalMs: deviceMs(60_000),
      escalationThreshold: { open: 2, outOf: 2 },
      alertCooldownMs: deviceMs(0),
      wakeOn: 'timer',
    },
    proved: { isKnown: true, ...bounds, inSpiteOfBounce: bounds },
    years: {
      lifeMs: days * dayMs,
      missedByLoss: 0,
      falseAlarmsAtMost: 0,
      rates: {
        missed: rate(missed),
        late: none,
        falseAlarms: rate(falseAlarms),
        earlyAlerts: none,
        repeats: none,
      },
    },
  };
}

// Counts of 20 years. 74 and 304 misses are 3.7 and 15.2 per year: the second is four times as many.
const own = trial({ missed: 74, falseAlarms: 300, days: 200, worstMs: 500_000 });
const long = trial({ missed: 304, falseAlarms: 4_400, days: 260, worstMs: 5_000_000 });
const quiet = trial({ missed: 120, falseAlarms: 3, days: 180, worstMs: 700_000 });
const alike = trial({ missed: 80, falseAlarms: 290, days: 240, worstMs: 900_000 });
const sooner = trial({ missed: 82, falseAlarms: 295, days: 235, worstMs: 300_000 });

describe('the recommended setting', () => {
  const all = [own, long, quiet, alike, sooner];
  it('misses no more than the fewest, as far as the years can tell; of these it lives longest, and within 3 % is soonest', () => {
    expect(choose(all, 'sure')).toBe(sooner);
    expect(choose([own, long, quiet, alike], 'sure')).toBe(alike);
    expect(choose([own, long], 'sure')).toBe(own);
  });

  it('is the quietest, or the longest lived, where that matters first', () => {
    expect(choose(all, 'quiet')).toBe(quiet);
    expect(choose(all, 'life')).toBe(long);
    expect(choose([], 'sure')).toBeNull();
  });
});

describe('with a profile that was fitted to a log', () => {
  /** The same rates in the profile's own years; over its resamples as many misses. */
  const doubted = (one: Trial, missed: number): Trial => {
    const of = (count: number) => ({ ...rate(count), years: 50 });
    const overall = { missed: of(missed), late: of(0), falseAlarms: of(300) };
    return { ...one, years: { ...one.years, overall } };
  };

  it('none is recommended that only this log makes look good', () => {
    const lucky = doubted(alike, 400);
    const sound = doubted(own, 90);
    expect(choose([alike, own], 'sure')).toBe(alike);
    expect(choose([lucky, sound], 'sure')).toBe(sound);
  });
});
