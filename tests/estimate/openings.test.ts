// Openings per year of a profile beside those of its log: chance is judged by how much the log's days differ.
import { describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs, type RandomStream, randomStream } from '../../src/base/index.js';
import { type OpeningsAgreement, openingsAgreement } from '../../src/estimate/index.js';
import { fitProfile, loggedDays, yearWorlds } from '../../src/scenarios/index.js';
import { type Spans, spansOf } from '../../src/world/index.js';

/** A Monday. */
const start = { epochMs: Date.UTC(2026, 2, 2), timeZone: 'UTC' };

/** Multiplied uniform draws until they are below e^−mean (Knuth). */
function poisson(mean: number, stream: RandomStream): number {
  const least = Math.exp(-mean);
  let count = 0;
  for (let product = stream.unit(); product > least; product *= stream.unit()) count += 1;
  return count;
}

type Day = (stream: RandomStream, weekend: boolean) => readonly number[];

/** As many openings, evenly over twelve hours, each up to four minutes later. */
function regular(count: number, stream: RandomStream): readonly number[] {
  const everyMs = (12 * hourMs) / count;
  return Array.from(
    { length: count },
    (_, index) => 6 * hourMs + index * everyMs + stream.unit() * 4 * minuteMs,
  );
}

function anytime(mean: number, stream: RandomStream): readonly number[] {
  return Array.from(
    { length: poisson(mean, stream) },
    () => 6 * hourMs + stream.unit() * 12 * hourMs,
  );
}

function inVisits(visits: number, stream: RandomStream): readonly number[] {
  return anytime(visits, stream).flatMap((atMs) =>
    Array.from({ length: 1 + poisson(4, stream) }, (_, index) => atMs + index * minuteMs),
  );
}

const kinds = {
  regular: (stream) => regular(60, stream),
  'regular, with quiet weekends': (stream, weekend) => regular(weekend ? 20 : 60, stream),
  Poisson: (stream) => anytime(40, stream),
  'Poisson, with quiet weekends': (stream, weekend) => anytime(weekend ? 8 : 40, stream),
  'Poisson, on workdays only': (stream, weekend) => (weekend ? [] : anytime(30, stream)),
  visits: (stream) => inVisits(8, stream),
  'now and then a busy day': (stream) => anytime(stream.unit() < 0.3 ? 100 : 10, stream),
} as const satisfies Readonly<Record<string, Day>>;

function logOf(kind: keyof typeof kinds, days: number, seed: number): Spans {
  const stream = randomStream(String(seed), `a log: ${kind}`, days);
  const spans: [number, number][] = [];
  for (let day = 0; day < days; day += 1) {
    const times = [...kinds[kind](stream, day % 7 >= 5)].sort((a, b) => a - b);
    for (const atMs of times) {
      const fromMs = Math.round(day * dayMs + atMs);
      if (fromMs <= (spans.at(-1)?.[1] ?? -1)) continue;
      spans.push([fromMs, fromMs + 8_000 + Math.round(stream.unit() * 30_000)]);
    }
  }
  return spansOf(spans);
}

function comparedOf(kind: keyof typeof kinds, days: number, seed = 1): OpeningsAgreement | null {
  const openings = logOf(kind, days, seed);
  const lengthMs = days * dayMs;
  const fit = fitProfile({ start, lengthMs, openings }, 10 * minuteMs);
  if (fit === null) return null;
  const none = { contact: null, outages: null, powerCuts: null };
  const worlds = yearWorlds({ profile: fit.profile, ...none });
  const drawn = [0, 1, 2, 3, 4, 5, 6, 7].map(
    (year) => worlds('openings', year).openings.fromMs.length,
  );
  const logged = loggedDays(start, lengthMs, openings);
  const countsOf = (weekend: boolean): readonly number[] =>
    logged.filter((day) => day.weekend === weekend).map((day) => day.openings.length);
  return openingsAgreement({ weekdays: countsOf(false), weekendDays: countsOf(true) }, drawn, 0.99);
}

describe('openings per year of a profile that was fitted to a log', () => {
  it.each([
    ['Poisson', 4],
    ['Poisson', 14],
    ['Poisson, with quiet weekends', 7],
    ['Poisson, with quiet weekends', 21],
    ['Poisson, on workdays only', 14],
    ['visits', 7],
    ['visits', 14],
    ['now and then a busy day', 14],
    // Alike for two weeks, and fitted well.
    ['regular', 14],
  ] as const)('agree with a log that is %s, of %i days', (kind, days) => {
    for (const seed of [1, 2]) expect(comparedOf(kind, days, seed)?.agrees).toBe(true);
  });

  it.each([
    ['regular', 7, 'fewer'],
    ['regular, with quiet weekends', 7, 'more'],
    ['regular, with quiet weekends', 14, 'more'],
  ] as const)(
    'do not agree with a log that is %s, of %i days: there are %s',
    (kind, days, which) => {
      const found = comparedOf(kind, days);
      expect(found?.agrees).toBe(false);
      const { drawn = 0, low = 0, high = 0, drawnRange } = found ?? {};
      if (which === 'more') expect(drawnRange?.low).toBeGreaterThan(high);
      else expect(drawnRange?.high).toBeLessThan(low);
      expect(drawn).toBeGreaterThan(0);
    },
  );

  it('differ by as much without a finding where three days cannot show that days are alike', () => {
    const found = comparedOf('regular', 3);
    expect((found?.drawn ?? 0) / (found?.logged ?? 1)).toBeLessThan(0.85);
    expect(found?.agrees).toBe(true);
  });
});

describe('the interval of a log', () => {
  it('holds the true openings per year as often as it says, of Poisson days', () => {
    const stream = randomStream('1', 'days', 0);
    let held = 0;
    for (let log = 0; log < 400; log += 1) {
      const weekdays = Array.from({ length: 10 }, () => poisson(12, stream));
      const weekendDays = Array.from({ length: 4 }, () => poisson(3, stream));
      const found = openingsAgreement({ weekdays, weekendDays }, [3_000, 3_000], 0.9);
      const yearly = (365 / 7) * (5 * 12 + 2 * 3);
      if (found !== null && found.low <= yearly && yearly <= found.high) held += 1;
    }
    // 90 % of 400 is 360, with a standard deviation of 6.
    expect(held).toBeGreaterThan(335);
    expect(held).toBeLessThan(385);
  });

  it('is of whole weeks, of the one kind of day there is, and wider for fewer days', () => {
    const drawn = [1, 1];
    const of = (weekdays: readonly number[], weekendDays: readonly number[]) =>
      openingsAgreement({ weekdays, weekendDays }, drawn, 0.99);
    expect(of([10, 10, 10], [3, 3])?.logged).toBeCloseTo((365 / 7) * 56, 6);
    expect(of([10, 10, 10], [])?.logged).toBeCloseTo(3_650, 6);
    expect(of([], [10, 10, 10])?.logged).toBeCloseTo(3_650, 6);
    // Three days alike are taken for chance, and eight are not.
    expect(of([10, 10, 10], [])?.low).toBeLessThan(3_650 / 2);
    expect(
      of(
        Array.from({ length: 8 }, () => 10),
        [],
      )?.low,
    ).toBeCloseTo(3_650, 6);
    expect(of([60], [])).toBeNull();
    expect(of([60], [20])).toBeNull();
    expect(of([5, 5, 5], [2, 2])).toBeNull();
  });

  it('calls no difference of a tenth a misfit, however alike the days are', () => {
    const weekdays = Array.from({ length: 10 }, () => 10);
    const agreesAt = (perYear: number) =>
      openingsAgreement({ weekdays, weekendDays: [] }, [perYear, perYear, perYear], 0.99)?.agrees;
    expect([3_200, 3_400, 3_650, 4_000, 4_700].map(agreesAt)).toEqual([
      false,
      true,
      true,
      true,
      false,
    ]);
  });
});
