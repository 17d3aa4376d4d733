// Everything that is drawn at random, against the distribution that it should follow: chi-square (Pearson 1900) and
// Kolmogorov–Smirnov (1933), from memory, with probabilities from Cephes. Seeds are fixed, so nothing here is left to luck.
import { describe, expect, it } from 'vitest';
import { ppm, trueMs } from '../../src/base/index.js';
import { drawnCases } from '../../src/drill/corners.js';
import {
  generateDoor,
  type UsageProfile,
  type YearHabits,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { durations } from '../../src/sim/durations.js';
import { sleepClock } from '../../src/sim/index.js';
import { withFaults } from '../../src/world/index.js';
import { steadyUse } from '../estimate/drawn-years.js';
import {
  chiSquareP,
  countsP,
  exponentialOf,
  kolmogorovP,
  lognormalOf,
  plausible,
  poissonP,
  serialP,
  uniform,
} from '../support/goodness.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const yearMs = 365 * dayMs;
const monday = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };

const gapsOf = (fromMs: ArrayLike<number>): number[] =>
  Array.from(fromMs).flatMap((from, index, all) =>
    index === 0 ? [] : [from - (all[index - 1] ?? 0)],
  );

/** Steps of lags at which what is drawn may not depend on itself. */
const lags = [1, 2, 3, 5, 7, 24, 60];
const independent = (uniforms: readonly number[]): boolean =>
  lags.every((lag) => plausible(serialP(uniforms, lag)));

describe('the door of a scenario', () => {
  // At the rate λ, gaps of a Poisson process are exponential with mean 1/λ.
  it.each([
    [60, 30, 'a'],
    [60, 30, 'b'],
    [6, 200, '1'],
    [0.5, 1_000, '2'],
  ])(
    'at %d openings an hour over %i days has exponential gaps and Poisson hours',
    (perHour, days, seed) => {
      const profile = steadyUse(24 * perHour, 1);
      const door = generateDoor(profile, { start: monday, lengthMs: days * dayMs }, seed);
      const starts = door.map(({ fromMs }) => fromMs);
      const meanMs = hourMs / perHour;
      const gaps = gapsOf(starts);
      expect(plausible(kolmogorovP(gaps, exponentialOf(meanMs)))).toBe(true);
      expect(independent(gaps.map(exponentialOf(meanMs)))).toBe(true);
      expect(Math.abs(starts.length - perHour * 24 * days)).toBeLessThan(
        4 * Math.sqrt(perHour * 24 * days),
      );
      const hours = Array.from({ length: days * 24 }, () => 0);
      for (const at of starts)
        hours[Math.floor(at / hourMs)] = (hours[Math.floor(at / hourMs)] ?? 0) + 1;
      expect(plausible(poissonP(hours, perHour))).toBe(true);
      const within = starts.map((at) => (at % hourMs) / hourMs);
      expect(plausible(kolmogorovP(within, uniform))).toBe(true);
    },
  );

  it('has durations and leave-opens as its profile says', () => {
    const generated = (
      profile: UsageProfile,
    ): readonly { toMs: number; fromMs: number; leaveOpen: boolean }[] =>
      generateDoor(profile, { start: monday, lengthMs: 400 * dayMs }, 'durations');
    const lengths = (profile: UsageProfile): number[] =>
      generated(profile).map(({ fromMs, toMs }) => toMs - fromMs);
    const use = steadyUse(12, 1);
    const exponentials = lengths({
      ...use,
      duration: { kind: 'exponential', meanMs: trueMs(20_000) },
    });
    expect(plausible(kolmogorovP(exponentials, exponentialOf(20_000)))).toBe(true);
    expect(independent(exponentials.map(exponentialOf(20_000)))).toBe(true);
    const logs = lengths({
      ...use,
      duration: { kind: 'lognormal', medianMs: trueMs(25_000), sigma: 0.8 },
    });
    expect(plausible(kolmogorovP(logs, lognormalOf(25_000, 0.8)))).toBe(true);
    expect(independent(logs.map(lognormalOf(25_000, 0.8)))).toBe(true);
    const values = [3_000, 5_000, 5_000, 8_000, 13_000, 21_000, 34_000].map(trueMs);
    const listed = lengths({ ...use, duration: { kind: 'drawn', ms: values } });
    expect(plausible(chiSquareP(cellsOf(listed, values)))).toBe(true);
    const habit = { share: 0.1, duration: { kind: 'fixed', ms: trueMs(60_000) } } as const;
    const left = generated({ ...use, leaveOpen: habit });
    expect(
      plausible(
        runsP(
          left.map(({ leaveOpen }) => leaveOpen),
          0.1,
        ),
      ),
    ).toBe(true);
  });
});

/** How often each of some values was drawn; one that is listed twice should come twice as often. */
function cellsOf(drawn: readonly number[], values: readonly number[]) {
  return [...new Set(values)].map((value) => ({
    seen: drawn.filter((one) => one === value).length,
    expected: (drawn.length * values.filter((one) => one === value).length) / values.length,
  }));
}

/** Lengths of the runs before each hit, which are geometric where hits are independent. */
function runsP(hits: readonly boolean[], share: number): number {
  const runs: number[] = [];
  let run = 0;
  for (const hit of hits) {
    if (hit) runs.push(run);
    run = hit ? 0 : run + 1;
  }
  return countsP(runs, (length) => share * (1 - share) ** length);
}

describe('drawn years', () => {
  const calm: Omit<YearHabits, 'profile'> = { contact: null, outages: null, powerCuts: null };
  const years = Array.from({ length: 300 }, (_, year) => year);

  it('have exponential gaps, within a year and up to its first opening, and counts that are Poisson', () => {
    const perDay = 24;
    const draw = yearWorlds({ ...calm, profile: steadyUse(perDay, 1) });
    const doors = years.map((year) => Array.from(draw('1', year).openings.fromMs));
    const meanMs = dayMs / perDay;
    const gaps = doors.slice(0, 10).flatMap(gapsOf);
    expect(plausible(kolmogorovP(gaps, exponentialOf(meanMs)))).toBe(true);
    expect(independent(gaps.map(exponentialOf(meanMs)))).toBe(true);
    const first = doors.map(([from = 0]) => from);
    expect(plausible(kolmogorovP(first, exponentialOf(meanMs)))).toBe(true);
    expect(independent(first.map(exponentialOf(meanMs)))).toBe(true);
    expect(
      plausible(
        poissonP(
          doors.map((door) => door.filter((at) => at < dayMs).length),
          perDay,
        ),
      ),
    ).toBe(true);
  });

  it('have durations and leave-opens as the profile says', () => {
    const use = steadyUse(24, 1_000);
    const lengths = (profile: UsageProfile): number[] => {
      const draw = yearWorlds({ ...calm, profile });
      return years.slice(0, 5).flatMap((year) => {
        const { fromMs, toMs } = draw('2', year).openings;
        return Array.from(fromMs, (from, index) => (toMs[index] ?? 0) - from);
      });
    };
    const exponentials = lengths({
      ...use,
      duration: { kind: 'exponential', meanMs: trueMs(20_000) },
    });
    expect(plausible(kolmogorovP(exponentials, exponentialOf(20_000)))).toBe(true);
    expect(independent(exponentials.map(exponentialOf(20_000)))).toBe(true);
    const logs = lengths({
      ...use,
      duration: { kind: 'lognormal', medianMs: trueMs(25_000), sigma: 0.8 },
    });
    expect(plausible(kolmogorovP(logs, lognormalOf(25_000, 0.8)))).toBe(true);
    expect(independent(logs.map(lognormalOf(25_000, 0.8)))).toBe(true);
    const values = [3_000, 5_000, 5_000, 8_000, 13_000].map(trueMs);
    const listed = lengths({ ...use, duration: { kind: 'drawn', ms: values } });
    expect(plausible(chiSquareP(cellsOf(listed, values)))).toBe(true);
    const habit = { share: 0.05, duration: { kind: 'fixed', ms: trueMs(60_000) } } as const;
    const left = lengths({ ...use, leaveOpen: habit }).map((ms) => ms === 60_000);
    expect(plausible(runsP(left, 0.05))).toBe(true);
  });

  it('have outages and power losses that are Poisson, anywhere in the year, of exponential length, apart from each other', () => {
    const often = { perYear: 5, meanMs: 600_000 };
    const draw = yearWorlds({
      profile: steadyUse(0.01, 1),
      contact: null,
      outages: often,
      powerCuts: often,
    });
    const worlds = Array.from({ length: 2_000 }, (_, year) => draw('1', year));
    const counts = (['networkDown', 'powerLost'] as const).map((key) => {
      const each = worlds.map((world) => world[key].fromMs.length);
      expect(plausible(poissonP(each, often.perYear))).toBe(true);
      const starts = worlds.flatMap((world) => Array.from(world[key].fromMs));
      expect(
        plausible(
          kolmogorovP(
            starts.map((at) => at / yearMs),
            uniform,
          ),
        ),
      ).toBe(true);
      const lengths = worlds.flatMap((world) =>
        Array.from(world[key].toMs, (to, index) => to - (world[key].fromMs[index] ?? 0)),
      );
      expect(plausible(kolmogorovP(lengths, exponentialOf(often.meanMs)))).toBe(true);
      expect(independent(lengths.map(exponentialOf(often.meanMs)))).toBe(true);
      for (const lag of lags) expect(Math.abs(correlationZ(each, each.slice(lag)))).toBeLessThan(4);
      return each;
    });
    const [outages = [], losses = []] = counts;
    expect(Math.abs(correlationZ(outages, losses))).toBeLessThan(4);
    // Starts have the grain of a millisecond: 32 bits over a year would leave 6 of 7 out.
    const sevenths = worlds.flatMap((world) =>
      Array.from(world.networkDown.fromMs, (at) => at % 7),
    );
    expect(plausible(chiSquareP(cellsOf(sevenths, [0, 1, 2, 3, 4, 5, 6])))).toBe(true);
  });
});

/** Correlation of counts, in standard deviations of what chance would give. */
function correlationZ(one: readonly number[], other: readonly number[]): number {
  const n = Math.min(one.length, other.length);
  const mean = (values: readonly number[]) => values.slice(0, n).reduce((sum, x) => sum + x, 0) / n;
  const [a, b] = [mean(one), mean(other)];
  const sums = { both: 0, one: 0, other: 0 };
  for (let index = 0; index < n; index += 1) {
    const [x, y] = [(one[index] ?? 0) - a, (other[index] ?? 0) - b];
    sums.both += x * y;
    sums.one += x * x;
    sums.other += y * y;
  }
  return (sums.both / Math.sqrt(sums.one * sums.other)) * Math.sqrt(n);
}

describe('boot and connect times', () => {
  it.each(['boot', 'connect'])('of a range take each millisecond equally often: %s', (purpose) => {
    const range = { kind: 'range', leastMs: trueMs(2_000), greatestMs: trueMs(2_049) } as const;
    const values = Array.from({ length: 50 }, (_, index) => 2_000 + index);
    const drawn = durations(range, '1', purpose);
    const inOneRun = Array.from({ length: 10_000 }, () => drawn.next());
    const first = Array.from({ length: 10_000 }, (_, year) =>
      durations(range, `1 year ${String(year)}`, purpose).next(),
    );
    for (const times of [inOneRun, first]) {
      expect(plausible(chiSquareP(cellsOf(times, values)))).toBe(true);
      expect(independent(times.map((ms) => (ms - 2_000 + 0.5) / 50))).toBe(true);
    }
  });
});

describe('clock errors', () => {
  it('drawn for each device of a series lie evenly within their range', () => {
    const error = { kind: 'drawn', leastPpm: ppm(-20_000), greatestPpm: ppm(20_000) } as const;
    const drawn = Array.from({ length: 5_000 }, (_, year) => {
      const clock = sleepClock(error, `1 year ${String(year)}`);
      return ((clock.ppm ?? Number.NaN) + 20_000 + 0.5) / 40_001;
    });
    expect(plausible(kolmogorovP(drawn, uniform))).toBe(true);
    expect(independent(drawn)).toBe(true);
  });
});

describe('chatter', () => {
  it('reads open as often as it says, each slot on its own', () => {
    const slots = 20_000;
    for (const fromMs of [0, dayMs]) {
      for (const openShare of [0.5, 0.2]) {
        const fault = {
          fromMs: trueMs(fromMs),
          toMs: trueMs(fromMs + slots),
          reads: { kind: 'chattering', openShare, slotMs: trueMs(1) },
        } as const;
        const edges = withFaults(new Float64Array(0), [fault], '1');
        const open = Array.from({ length: slots }, () => false);
        edges.forEach((edge, index) => {
          if (index % 2 === 0) open.fill(true, edge - fromMs, (edges[index + 1] ?? edge) - fromMs);
        });
        expect(plausible(runsP(open, openShare))).toBe(true);
      }
    }
  });
});

describe('cases between the corners of a drill', () => {
  it('have people who are early and late evenly, whatever the case before', () => {
    const fixed = (ms: number) => ({ least: trueMs(ms), most: trueMs(ms) });
    const clockError = { kind: 'range', least: ppm(0), most: ppm(0) } as const;
    const timing = { bootTime: fixed(400), connectTime: fixed(4_000), joinWaitMs: 0, clockError };
    const cases = drawnCases(timing, 1_000, { actions: 3, count: 3_000 });
    for (const action of [0, 1, 2]) {
      const leans = cases.map(({ leansMs }) => ((leansMs?.[action] ?? 0) + 1_000.5) / 2_001);
      expect(plausible(kolmogorovP(leans, uniform))).toBe(true);
      expect(independent(leans)).toBe(true);
    }
  });
});
