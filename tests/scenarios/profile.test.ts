import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomStream, trueMs } from '../../src/base/index.js';
import {
  defaultWatchFile,
  generateDoor,
  localTime,
  parseScenario,
  timelineOf,
  type UsageProfile,
} from '../../src/scenarios/index.js';
import { drawCount, drawDuration } from '../../src/scenarios/profile/draw.js';
import { exponential, logarithm } from '../../src/scenarios/profile/portable-math.js';
import { valueOf } from './reading.js';

const hour = 3_600_000;
const day = 24 * hour;
const monday = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };

const steady: UsageProfile = {
  openingsPerHour: Array.from({ length: 24 }, () => 2),
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: { kind: 'fixed', ms: trueMs(10_000) },
  leaveOpen: null,
};

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe('logarithm and exponential from plain arithmetic', () => {
  it('agree with the engine’s', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-300, max: 1e300, noNaN: true }), (x) => {
        expect(Math.abs(logarithm(x) - Math.log(x))).toBeLessThan(
          1e-13 * Math.max(1, Math.abs(Math.log(x))),
        );
      }),
    );
    fc.assert(
      fc.property(fc.double({ min: -700, max: 700, noNaN: true }), (x) => {
        expect(Math.abs(exponential(x) / Math.exp(x) - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  it('give the very same digits on any machine', () => {
    expect([logarithm(0.1), exponential(-1.5), exponential(10)]).toEqual([
      -2.3025850929940455, 0.22313016014842982, 22026.465794806725,
    ]);
  });
});

describe('draws', () => {
  const draw = (
    count: number,
    one: (stream: ReturnType<typeof randomStream>) => number,
  ): number[] => Array.from({ length: count }, (_, index) => one(randomStream('draws', index)));

  it('of a count have the mean and the variance of their distribution', () => {
    const counts = draw(20_000, (stream) => drawCount(3.5, stream));
    const average = mean(counts);
    expect(average).toBeCloseTo(3.5, 1);
    expect(mean(counts.map((count) => (count - average) ** 2))).toBeCloseTo(3.5, 0);
    expect(draw(100, (stream) => drawCount(0, stream))).toEqual(
      Array.from({ length: 100 }, () => 0),
    );
  });

  it('of a duration have its mean, or its median and spread', () => {
    const exponentials = draw(20_000, (stream) =>
      drawDuration({ kind: 'exponential', meanMs: trueMs(20_000) }, stream),
    );
    expect(mean(exponentials) / 20_000).toBeCloseTo(1, 1);
    const logs = draw(20_000, (stream) =>
      Math.log(drawDuration({ kind: 'lognormal', medianMs: trueMs(25_000), sigma: 0.8 }, stream)),
    );
    const average = mean(logs);
    expect(average).toBeCloseTo(Math.log(25_000), 1);
    expect(Math.sqrt(mean(logs.map((log) => (log - average) ** 2)))).toBeCloseTo(0.8, 1);
    expect(draw(3, (s) => drawDuration({ kind: 'fixed', ms: trueMs(7) }, s))).toEqual([7, 7, 7]);
  });
});

describe('a door drawn from a profile', () => {
  const week = { start: monday, lengthMs: 7 * day };

  it('is the same for the same seed, and another for another', () => {
    expect(generateDoor(steady, week, 'a')).toEqual(generateDoor(steady, week, 'a'));
    expect(generateDoor(steady, week, 'a')).not.toEqual(generateDoor(steady, week, 'b'));
    expect(generateDoor(steady, week, 'a').slice(0, 2)).toEqual([
      { fromMs: 1_095_539, toMs: 1_105_539, leaveOpen: false },
      { fromMs: 1_844_691, toMs: 1_854_691, leaveOpen: false },
    ]);
  });

  it('has openings that lie within it, in order, apart from each other', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 3 * day }), (seed, lengthMs) => {
        let shutMs = -1;
        for (const { fromMs, toMs } of generateDoor(steady, { start: monday, lengthMs }, seed)) {
          expect(fromMs).toBeGreaterThan(shutMs);
          expect(toMs).toBeGreaterThan(fromMs);
          expect(fromMs).toBeLessThan(lengthMs);
          shutMs = toMs;
        }
      }),
    );
  });

  it('does not change where it goes on for longer', () => {
    const short = generateDoor(steady, { start: monday, lengthMs: day }, 'a');
    const long = generateDoor(steady, week, 'a');
    expect(long.slice(0, short.length)).toEqual(short);
  });

  it('does not change elsewhere when one hour is used less', () => {
    const quiet = {
      ...steady,
      openingsPerHour: steady.openingsPerHour.map((rate, index) => (index === 9 ? 0 : rate)),
    };
    const hourOf = (fromMs: number): number => Math.floor((fromMs % day) / hour);
    const without = (profile: UsageProfile): unknown =>
      generateDoor(profile, week, 'a').filter(({ fromMs }) => hourOf(fromMs) !== 9);
    expect(without(quiet)).toEqual(without(steady));
    expect(generateDoor(quiet, week, 'a').some(({ fromMs }) => hourOf(fromMs) === 9)).toBe(false);
  });

  it('opens as often as its hours and its days say', () => {
    const weeks = { start: monday, lengthMs: 20 * 7 * day };
    const profile = { ...steady, weekendFactor: 0.25 };
    const counts = { week: 0, weekend: 0 };
    for (const { fromMs } of generateDoor(profile, weeks, 'a')) {
      const { weekday } = localTime(monday, fromMs);
      counts[weekday === 'Sat' || weekday === 'Sun' ? 'weekend' : 'week'] += 1;
    }
    // Poisson: within four standard deviations.
    for (const [count, expected] of [
      [counts.week, 20 * 5 * 48],
      [counts.weekend, 20 * 2 * 12],
    ] as const) {
      expect(Math.abs(count - expected)).toBeLessThan(4 * Math.sqrt(expected));
    }
  });

  it('is left open for as large a share as it says', () => {
    const habit = { share: 0.1, duration: { kind: 'fixed', ms: trueMs(60_000) } } as const;
    const profile = { ...steady, leaveOpen: habit };
    const openings = generateDoor(profile, { start: monday, lengthMs: 100 * day }, 'a');
    const left = openings.filter(({ leaveOpen }) => leaveOpen);
    expect(left.length / openings.length).toBeCloseTo(0.1, 1);
    expect(new Set(left.map(({ fromMs, toMs }) => toMs - fromMs))).toEqual(new Set([60_000]));
  });

  it('goes by the clock on the wall: the hour that is skipped has no openings, a doubled one twice as many', () => {
    const only = {
      ...steady,
      openingsPerHour: steady.openingsPerHour.map((_, index) => (index === 2 ? 300 : 0)),
    };
    const opened = (epochMs: number): number =>
      generateDoor(
        { ...only, duration: { kind: 'fixed', ms: trueMs(1) } },
        { start: { epochMs, timeZone: 'Europe/Berlin' }, lengthMs: day },
        'a',
      ).length;
    expect(opened(Date.UTC(2026, 2, 28, 23))).toBe(0);
    expect(opened(Date.UTC(2026, 4, 7, 22))).toBeGreaterThan(200);
    expect(opened(Date.UTC(2026, 9, 24, 22))).toBeGreaterThan(500);
  });
});

describe('a scenario that draws its door', () => {
  const drawn = (more: string) =>
    valueOf(
      timelineOf(
        valueOf(parseScenario(`name: x\nlength: 7d\n${more}`, 'x.yaml')),
        defaultWatchFile(),
      ),
    );

  it('names a profile or writes one down', () => {
    const named = drawn('generate: { profile: flower-store, seed: 4 }');
    expect(named.world.openings.fromMs.length).toBeGreaterThan(50);
    const written = drawn(
      'generate: { profile: { openingsPerHour: { "22-6": 2, "7": 1 }, duration: { exponential: { mean: 20s } }, leaveOpen: { share: 5%, duration: 20m } } }',
    );
    const hours = new Set(
      Array.from(written.world.openings.fromMs, (fromMs) => Math.floor((fromMs % day) / hour)),
    );
    expect([...hours].every((at) => at >= 22 || at < 6 || at === 7)).toBe(true);
  });

  it('draws by its own seed, else by that of the timeline', () => {
    const text = 'generate: { profile: flower-store }';
    expect(drawn(`${text}\nseed: a`).world).toEqual(
      drawn('generate: { profile: flower-store, seed: a }').world,
    );
    expect(drawn(`${text}\nseed: a`).world).not.toEqual(drawn(`${text}\nseed: b`).world);
  });

  it('keeps clear of the openings that are listed, and says how many it left out', () => {
    const busy = 'generate: { profile: { openingsPerHour: { "0-24": 300 }, duration: 1s } }';
    const both = drawn(`${busy}\ndoor: [at +1d for 1d]`);
    expect(Array.from(both.world.openings.fromMs)).toContain(day);
    expect(both.remarks).toMatchObject([{ code: 'drawn-left-out' }]);
    const listed = Array.from(both.world.openings.fromMs).indexOf(day);
    expect(both.world.openings.toMs[listed]).toBe(2 * day);
  });
});
