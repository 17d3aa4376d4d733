// Years drawn from a profile: the same habits as the generated door of a scenario, the same for the same seed.
import { describe, expect, it } from 'vitest';
import { trueMs, um } from '../../src/base/index.js';
import {
  builtInProfile,
  builtInProfiles,
  generateDoor,
  openingsAYear,
  parseProfile,
  type UsageProfile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { quickExponential, quickLogarithm } from '../../src/scenarios/profile/quick-math.js';

const dayMs = 86_400_000;
const calm = { contact: null, outages: null, powerCuts: null };

function profileOf(name: string): UsageProfile {
  const profile = builtInProfile(name);
  if (profile === null) throw new Error(`no profile ${name}`);
  return profile;
}

describe('quick logarithm and exponential', () => {
  it('agree with the engine’s own', () => {
    const steps = Array.from({ length: 20_000 }, (_, step) => (step + 1) / 20_000);
    const logErrors = steps.map(
      (x) => Math.abs(quickLogarithm(x) - Math.log(x)) / (1 - Math.log(x)),
    );
    const powers = steps.map((x) => (x - 0.5) * 80);
    const expErrors = powers.map((y) => Math.abs(quickExponential(y) / Math.exp(y) - 1));
    expect(Math.max(...logErrors)).toBeLessThan(1e-14);
    expect(Math.max(...expErrors)).toBeLessThan(1e-13);
    expect(quickLogarithm(2 ** -32)).toBeCloseTo(-32 * Math.LN2, 12);
    expect(quickLogarithm(1)).toBeCloseTo(0, 15);
    expect(quickExponential(0)).toBe(1);
  });
});

describe('a drawn year', () => {
  it('is the same for the same seed and number, and another otherwise', () => {
    const draw = yearWorlds({ profile: profileOf('goose-house'), ...calm });
    expect(draw('1', 3)).toEqual(draw('1', 3));
    expect(draw('1', 3)).not.toEqual(draw('1', 4));
    expect(draw('1', 3)).not.toEqual(draw('2', 3));
  });

  it('has ascending openings that do not touch, within the year; the last may be endless', () => {
    const profile = {
      ...profileOf('flower-store'),
      duration: { kind: 'exponential', meanMs: trueMs(3_600_000) },
    } as const;
    const draw = yearWorlds({ profile, ...calm });
    for (let year = 0; year < 20; year += 1) {
      const { openings, lengthMs, contact } = draw('1', year);
      const { fromMs, toMs } = openings;
      const ends = [-1, ...toMs];
      expect(fromMs.every((from, index) => from > (ends[index] ?? from))).toBe(true);
      expect(fromMs.every((from, index) => from < (toMs[index] ?? from))).toBe(true);
      expect(fromMs.every((from) => Number.isInteger(from))).toBe(true);
      expect(fromMs.at(-1)).toBeLessThan(lengthMs);
      const endless = toMs.at(-1) === Number.POSITIVE_INFINITY;
      if (!endless) expect(toMs.at(-1)).toBeLessThanOrEqual(lengthMs);
      expect(contact.length).toBe(2 * fromMs.length - (endless ? 1 : 0));
    }
  });

  it.each(builtInProfiles)('of %s is used as the generated door of a scenario is', (name) => {
    const profile = profileOf(name);
    const years = 12;
    const draw = yearWorlds({ profile, ...calm });
    // A year that begins on a Monday, in UTC: 364 days are 52 whole weeks, as are seven years that each begin a day later.
    const start = { epochMs: Date.UTC(2024, 0, 1), timeZone: 'UTC' };
    const hours = (of: (hour: number) => number) =>
      Array.from({ length: 24 }, (_, hour) => of(hour));
    const drawn = { count: 0, openMs: 0, byHour: hours(() => 0) };
    const generated = { count: 0, openMs: 0, byHour: hours(() => 0) };
    const add = (sum: typeof drawn, fromMs: number, toMs: number): void => {
      sum.count += 1;
      sum.openMs += Math.min(toMs - fromMs, 60_000);
      const hour = Math.floor((fromMs % dayMs) / 3_600_000);
      sum.byHour[hour] = (sum.byHour[hour] ?? 0) + 1;
    };
    for (let year = 0; year < years; year += 1) {
      const { fromMs, toMs } = draw('a', year).openings;
      fromMs.forEach((from, index) => add(drawn, from, toMs[index] ?? 0));
    }
    for (const { fromMs, toMs } of generateDoor(profile, { start, lengthMs: 365 * dayMs }, 'a')) {
      add(generated, fromMs, toMs);
    }
    const near = (a: number, b: number, sigmas = 5): boolean =>
      Math.abs(a / years - b) <= sigmas * Math.sqrt(a / years ** 2 + b + 1);
    expect(near(drawn.count, generated.count)).toBe(true);
    expect(drawn.byHour.every((count, hour) => near(count, generated.byHour[hour] ?? 0))).toBe(
      true,
    );
    const meanRatio = drawn.openMs / drawn.count / (generated.openMs / generated.count);
    expect(Math.abs(meanRatio - 1)).toBeLessThan(0.06);
    expect(drawn.count / years).toBeGreaterThan(0.9 * openingsAYear(profile));
  });

  it('has its outages and power losses, as many and as long on average as required, and each its own', () => {
    const outages = { perYear: 12, meanMs: 1_800_000 };
    const draw = yearWorlds({
      profile: profileOf('seed-bank'),
      contact: null,
      outages,
      powerCuts: { perYear: 2, meanMs: 60_000 },
    });
    let down = 0;
    let downMs = 0;
    let cuts = 0;
    for (let year = 0; year < 300; year += 1) {
      const { networkDown, powerLost } = draw('1', year);
      down += networkDown.fromMs.length;
      cuts += powerLost.fromMs.length;
      networkDown.fromMs.forEach(
        (from, index) => (downMs += (networkDown.toMs[index] ?? 0) - from),
      );
    }
    expect(down / 300).toBeGreaterThan(11);
    expect(down / 300).toBeLessThan(13);
    expect(cuts / 300).toBeGreaterThan(1.6);
    expect(cuts / 300).toBeLessThan(2.4);
    expect(downMs / down / 1_800_000).toBeGreaterThan(0.9);
    expect(downMs / down / 1_800_000).toBeLessThan(1.1);
  });

  it('bounces where the contact does', () => {
    const profile = profileOf('goose-house');
    const contact = { operateGapUm: um(8_000), releaseGapUm: um(12_000), bounceMs: trueMs(5) };
    const one = yearWorlds({ profile, ...calm })('1', 0).contact.length;
    expect(yearWorlds({ profile, ...calm, contact })('1', 0).contact.length).toBeGreaterThan(
      4 * one,
    );
  });
});

describe('a profile file', () => {
  it('is what a scenario writes under generate', () => {
    const text =
      'openingsPerHour: { "6-18": 1 }\nduration: 20s\nleaveOpen: { share: 2%, duration: 10m }\n';
    const read = parseProfile(text, 'store.yaml');
    expect(read.ok && read.value.leaveOpen?.share).toBe(0.02);
    expect(read.ok && openingsAYear(read.value)).toBe(365 * 12);
  });

  it('that sums to nothing is one error, at its rates', () => {
    const read = parseProfile('duration: 20s\nopeningsPerHour: { "6-18": 0 }\n', 'zero.yaml');
    expect(read.ok ? [] : read.errors).toMatchObject([
      { code: 'profile-empty', source: { file: 'zero.yaml', line: 2 } },
    ]);
    const week =
      'openingsPerHour: { "6-18": 1 }\nduration: 20s\nweekdayFactor: 0\nweekendFactor: 0\n';
    const idle = parseProfile(week, 'idle.yaml');
    expect(idle.ok ? [] : idle.errors.map(({ code }) => code)).toEqual(['profile-empty']);
  });
});
