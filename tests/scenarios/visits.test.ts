// Visits: what is drawn from them, and that a fit finds them again.
import { describe, expect, it } from 'vitest';
import {
  fitProfile,
  generateDoor,
  parseProfile,
  profileText,
  resampleCount,
  resampled,
  type UsageProfile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { chanceDistance } from '../../src/scenarios/profile/goodness.js';
import { spansOf } from '../../src/world/index.js';

const dayMs = 86_400_000;
const start = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };

function profileOf(text: string): UsageProfile {
  const read = parseProfile(text, 'p.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  return read.value;
}

/** Ten visits a day at any hour; openings as good as points. */
function points(openings: string, gap: string): UsageProfile {
  return profileOf(
    `visits: { perHour: { "0-24": ${String(10 / 24)} }, openings: ${openings}, gap: ${gap} }\nduration: 1ms\n`,
  );
}

function gapsIn(profile: UsageProfile, years: number): number[] {
  const draw = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  return Array.from({ length: years }, (_, year) => draw('1', year).openings.fromMs).flatMap(
    (from) => Array.from(from.subarray(1), (ms, index) => ms - (from[index] ?? 0)),
  );
}

describe('drawn visits', () => {
  // Geometric visits with exponential gaps are a renewal process: a gap is one within a visit (mean w) with probability
  // p = 1 − 1/mean, else one between visits (mean b). So P(gap > T) = p·e^(−T/w) + (1 − p)·e^(−T/b) (worked).
  it('of a geometric number with exponential gaps have the gaps of a hyperexponential renewal process', () => {
    const gaps = gapsIn(
      points('{ kind: geometric, mean: 3.5 }', '{ kind: exponential, mean: 2m }'),
      40,
    );
    const beyond = (ms: number): number => gaps.filter((gap) => gap > ms).length / gaps.length;
    for (const ms of [60_000, 300_000, 3_600_000, 10_000_000]) {
      const p = 1 - 1 / 3.5;
      const wanted = p * Math.exp(-ms / 120_000) + (1 - p) * Math.exp(-ms / 8_640_000);
      expect(beyond(ms)).toBeCloseTo(wanted, 2);
    }
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
    const squares = gaps.reduce((sum, gap) => sum + gap * gap, 0) / gaps.length;
    // Index of dispersion of a renewal process at long windows: the squared coefficient of variation of its gaps.
    const p = 1 - 1 / 3.5;
    const wantedMean = p * 120_000 + (1 - p) * 8_640_000;
    const wantedSquare = 2 * (p * 120_000 ** 2 + (1 - p) * 8_640_000 ** 2);
    const index = wantedSquare / wantedMean ** 2 - 1;
    expect(squares / mean ** 2 - 1).toBeGreaterThan(0.93 * index);
    expect(squares / mean ** 2 - 1).toBeLessThan(1.07 * index);
  });

  it.each([
    ['{ kind: fixed, count: 4 }', 4],
    ['{ kind: geometric, mean: 4 }', 4],
    ['{ kind: poisson, mean: 4 }', 4],
    ['{ kind: drawn, counts: [1, 2, 9] }', 4],
  ])('with %s have %d openings on average', (openings, mean) => {
    const gaps = gapsIn(points(openings, '{ kind: fixed, time: 30s }'), 20);
    // Those of 30 s and 1 ms are within visits; none begins during another.
    const within = gaps.filter((gap) => gap === 30_001).length;
    expect(within / (gaps.length - within)).toBeGreaterThan(0.95 * (mean - 1));
    expect(within / (gaps.length - within)).toBeLessThan(1.05 * (mean - 1));
    expect(gaps.every((gap) => gap > 0)).toBe(true);
  });

  it('of a scenario come at the same rate as those of years', () => {
    const profile = points(
      '{ kind: geometric, mean: 3 }',
      '{ kind: lognormal, median: 20s, sigma: 1 }',
    );
    const door = generateDoor(profile, { start, lengthMs: 365 * dayMs }, 'a');
    const drawn = gapsIn(profile, 10).length / 10;
    expect(Math.abs(door.length / drawn - 1)).toBeLessThan(0.06);
  });
});

const bursts = profileOf(
  'visits: { perHour: { "7-21": 0.8 }, weekend: 0.5, openings: { kind: geometric, mean: 2.8 }, ' +
    'gap: { kind: lognormal, median: 18s, sigma: 1.2 }, dependence: { lengths: 0.6 } }\n' +
    'duration: { lognormal: { median: 9s, sigma: 0.8 } }\nleaveOpen: { share: 2%, duration: { exponential: { mean: 20m } } }\n',
);

function fitOf(profile: UsageProfile, days: number, asLogged = false) {
  const lengthMs = days * dayMs;
  const door = generateDoor(profile, { start, lengthMs }, 'fit');
  const openings = spansOf(door.map(({ fromMs, toMs }) => [fromMs, toMs] as const));
  const fit = fitProfile({ start, lengthMs, openings }, 180_000, asLogged);
  if (fit === null) throw new Error('a drawn door has openings');
  return fit;
}

describe('a fit', () => {
  it('finds the visits that a door was drawn from', () => {
    const { profile, process } = fitOf(bursts, 90);
    expect(process.model).toBe('visits');
    const { visits } = profile;
    expect(visits?.openings).toMatchObject({ kind: 'geometric', mean: expect.closeTo(2.8, 0) });
    expect(
      visits?.gap.kind === 'lognormal' && Math.abs(visits.gap.medianMs / 18_000 - 1) < 0.15,
    ).toBe(true);
    expect(visits?.gap.kind === 'lognormal' && Math.abs(visits.gap.sigma - 1.2)).toBeLessThan(0.15);
    expect(visits?.dependence?.lengths).toBeCloseTo(0.55, 0);
    expect(profile.weekendFactor).toBeCloseTo(0.5, 0);
  });

  it.each([false, true])('is read back as it was written; as logged: %s', (asLogged) => {
    const { profile } = fitOf(bursts, 20, asLogged);
    const read = parseProfile(profileText(profile, ['fitted  to', 'a  log']), 'fitted.yaml');
    expect(read.ok ? read.value : read.errors).toEqual(profile);
  });

  it('keeps single openings where they fit as well', () => {
    const single = profileOf(
      'openingsPerHour: { "0-24": 1 }\nduration: { exponential: { mean: 20s } }\n',
    );
    expect(fitOf(single, 40).process.model).toBe('single');
  });

  it('of a single opening is one a day, at any hour, and its resamples differ widely', () => {
    const door = { start, lengthMs: 20_000, openings: spansOf([[0, 20_000]]) };
    const profile = fitProfile(door, 180_000)?.profile;
    expect(profile?.openingsPerHour.reduce((sum, rate) => sum + rate, 0)).toBeCloseTo(1, 2);
    if (profile === undefined) throw new Error('there is an opening');
    const rates = Array.from({ length: resampleCount(profile) }, (_, row) =>
      resampled(profile, row).openingsPerHour.reduce((sum, rate) => sum + rate, 0),
    );
    expect(Math.min(...rates)).toBeLessThan(0.3);
    expect(Math.max(...rates)).toBeGreaterThan(2.5);
  });

  it('as logged draws whole days: weekdays on weekdays', () => {
    const { profile } = fitOf({ ...bursts, weekendFactor: 0 }, 28, true);
    const door = generateDoor(profile, { start, lengthMs: 28 * dayMs }, 'b');
    expect(door.length).toBeGreaterThan(0);
    // 4 May 2026 is a Monday. A visit of a Friday may last beyond midnight.
    const weekend = door.filter(({ fromMs }) => Math.floor(fromMs / dayMs) % 7 >= 5);
    expect(weekend.length).toBeLessThan(0.01 * door.length);
  });
});

describe('what chance leaves of a fit', () => {
  // Lilliefors: the 5 % points of the Kolmogorov–Smirnov distance from a fit, from 10⁷ simulations (statsmodels,
  // _lilliefors_critical_values.py, read). A plain limit would be 0.294 at n = 20.
  it.each([
    ['exponential', 10, 0.32438433],
    ['exponential', 20, 0.23446664],
    ['exponential', 50, 0.15087554],
    ['exponential', 100, 0.10752233],
    ['lognormal', 10, 0.26202351],
    ['lognormal', 20, 0.19190794],
    ['lognormal', 50, 0.12444044],
    ['lognormal', 100, 0.08900091],
    ['exponential', 1_600, 0.02723521],
    ['lognormal', 1_600, 0.02262168],
  ] as const)('for %s at n = %d is %d, 19 times of 20', (kind, count, wanted) => {
    expect(Math.abs(chanceDistance(kind, count) / wanted - 1)).toBeLessThan(0.04);
  });
});

describe('a profile file with visits', () => {
  const base = 'duration: 20s\n';
  it.each([
    [
      `${base}visits: { perHour: { "6-18": 1 }, openings: { kind: geometric, count: 2 } }\n`,
      'distribution-unclear',
    ],
    [
      `${base}visits: { perHour: { "6-18": 1 }, openings: { kind: geometric, mean: 2 } }\n`,
      'missing-key',
    ],
    [
      `${base}visits: { perHour: { "6-18": 0 }, openings: { kind: fixed, count: 1 } }\n`,
      'profile-empty',
    ],
    [
      `${base}openingsPerHour: { "6-18": 1 }\nvisits: { perHour: { "6-18": 1 }, openings: { kind: fixed, count: 1 } }\n`,
      'rates-twice',
    ],
    [`${base}days: []\n`, 'rates-twice'],
    ['days: [{ on: weekday, openings: ["8:15 for 10"] }]\n', 'opening-unreadable'],
    ['days: [{ on: weekday, openings: [] }]\n', 'profile-empty'],
    [base, 'missing-key'],
    ['openingsPerHour: { "6-18": 1 }\n', 'missing-key'],
    [
      `${base}visits: { perHour: { "6-18": 1 }, openings: { kind: geometric, mean: 2 }, gap: { kind: fixed, time: 9s }, dependence: { lengths: 0.9, gapAfter: 0.9, lengthAfter: -0.9 } }\n`,
      'correlations-impossible',
    ],
  ])('%j is one error: %s', (text, code) => {
    const read = parseProfile(text, 'wrong.yaml');
    expect(read.ok ? [] : read.errors.map((error) => error.code)).toEqual([code]);
  });
});
