// The numbers behind profiles, at the boundaries where another kind of fit begins, and the functions of the normal distribution.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { fitProfile } from '../../src/scenarios/index.js';
import { dependenceOf } from '../../src/scenarios/profile/dependence.js';
import { fitDurations } from '../../src/scenarios/profile/fit-durations.js';
import { hourRates } from '../../src/scenarios/profile/fit-visits.js';
import { chanceDistance, distanceOf, shareOf } from '../../src/scenarios/profile/goodness.js';
import { loggedDays } from '../../src/scenarios/profile/logged-days.js';
import {
  normalScore,
  normalShare,
  quickNormalScore,
  quickNormalShare,
} from '../../src/scenarios/profile/normal-share.js';
import {
  briefOnes,
  drawer,
  meanOpenings,
  normalsFrom,
} from '../../src/scenarios/profile/visit-draws.js';
import type { CountDistribution, DurationDistribution } from '../../src/scenarios/types.js';
import { spansOf } from '../../src/world/index.js';
import { expectRecorded, plainText } from './recording.js';

const second = 1_000;
const hour = 3_600 * second;
const day = 24 * hour;
const monday = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };

function digits(value: unknown, count = 6): string {
  return JSON.stringify(value, (_, part: unknown) => {
    if (ArrayBuffer.isView(part)) return Array.from(Object.values(part));
    if (typeof part === 'number' && !Number.isFinite(part)) return String(part);
    return typeof part === 'number' ? Number(part.toPrecision(count)) : part;
  });
}

/** Numbers from 0 to 1 that look drawn, by plain arithmetic. */
function spread(count: number, from = 1): readonly number[] {
  return Array.from({ length: count }, (_, at) => ((at + from) * 0.618_033_988_75) % 1);
}

describe('a fit changes its kind where it did', () => {
  it('by the number of lengths, and by how they lie', () => {
    const lines = [0, 1, 2, 3, 4, 5, 6, 9, 20, 40].flatMap((count) => {
      const even = spread(count).map((one) => Math.round(one * 60 * second) + 1);
      const exponential = spread(count, 2).map(
        (one) => Math.round(-20 * second * Math.log(1 - one)) + 1,
      );
      const same = spread(count).map(() => 5 * second);
      const two = spread(count, 3).map((one) => (one < 0.5 ? second : 9 * 60 * second));
      const nearly = spread(count).map((one) => 5_000 + Math.round(one * 12));
      return [even, exponential, same, two, nearly].flatMap((ms) =>
        [false, true].map(
          (keep) => `${String(count)} ${String(keep)}: ${digits(fitDurations(ms, keep))}`,
        ),
      );
    });
    expectRecorded('numbers-of-lengths', lines);
  });

  it('by the number of visits, openings and hours', () => {
    const lines = [1, 2, 3, 8, 9, 10, 11, 12].flatMap((count) =>
      [1, 2, 3].flatMap((each) => {
        const pairs = Array.from({ length: count }, (_, at) => at).flatMap((at) =>
          Array.from({ length: each }, (_, more): [number, number] => {
            const fromMs = at * 7 * hour + more * 40 * second;
            return [fromMs, fromMs + 10 * second + more];
          }),
        );
        return [day - 1, day, count * 7 * hour + 1].flatMap((lengthMs) => {
          const within = pairs.filter(([fromMs]) => fromMs < lengthMs);
          const fit = fitProfile(
            { start: monday, lengthMs, openings: spansOf(within) },
            180 * second,
          );
          const { profile, process } = fit ?? expect.fail();
          const { fitted, ...habits } = profile;
          return [
            `${String(count)} of ${String(each)} in ${String(lengthMs)}: ${digits(process)} ${digits(habits, 4)} ${digits(fitted?.resamples.length)}`,
          ];
        });
      }),
    );
    expectRecorded('numbers-of-visits', lines);
  });

  it('by the number of neighbours, and how they depend on each other', () => {
    const lines = [10, 11, 12, 13, 14, 30].flatMap((count) => {
      const noise = spread(count + 1, 5);
      const lengths: Readonly<Record<string, readonly number[]>> = {
        alike: noise.map((one, at) => 10_000 + at * 500 + one),
        other: noise.map((one) => 10_000 + Math.round(one * 9_000)),
        same: noise.map(() => 10_000),
        turns: noise.map((_, at) => (at % 2 === 0 ? 5_000 : 20_000)),
      };
      return Object.entries(lengths).flatMap(([name, ms]) =>
        ['after', 'before', 'free'].map((gaps) => {
          let atMs = 0;
          const pairs = ms.map((length, at): [number, number] => {
            const fromMs = atMs;
            const next = ms[at + 1] ?? 0;
            const gap =
              gaps === 'after'
                ? 2 * length
                : gaps === 'before'
                  ? 50_000 - next
                  : 9_000 + Math.round((noise[at] ?? 0) * 700);
            atMs += length + gap;
            return [fromMs, fromMs + length];
          });
          const within = Float64Array.from(ms, () => 0.9);
          return `${String(count)} ${name} ${gaps}: ${digits(dependenceOf(spansOf(pairs), within))}`;
        }),
      );
    });
    expectRecorded('numbers-of-neighbours', lines);
  });

  it('by the days that a log touches', () => {
    const lines = [0, 9 * hour].flatMap((from) =>
      [3 * hour, day - 1, day, 30 * hour, 2 * day, 51 * hour].map((lengthMs) => {
        const start = { epochMs: monday.epochMs + from, timeZone: 'Europe/Oslo' };
        const pairs = Array.from(
          { length: Math.floor(lengthMs / (2 * hour)) },
          (_, at): [number, number] => [at * 2 * hour, at * 2 * hour + 7 * second],
        );
        const endless: [number, number] = [lengthMs - second, Number.POSITIVE_INFINITY];
        return `${String(from)} ${String(lengthMs)}: ${plainText(loggedDays(start, lengthMs, spansOf([...pairs, endless])).map(({ weekend, openings }) => [weekend, openings.map(({ atMs, forMs }) => [atMs / second, forMs])]))}`;
      }),
    );
    expectRecorded('numbers-of-days', lines);
  });
});

describe('numbers of a distribution', () => {
  it('of the normal one are what they were, and belong together', () => {
    const lines = Array.from({ length: 41 }, (_, at) => (at - 20) / 2).map(
      (z) => `${String(z)}: ${digits([normalShare(z), quickNormalShare(z)], 9)}`,
    );
    const shares = [0, 1e-20, 1e-9, 0.001, 0.02425, 0.1, 0.3, 0.5, 0.7, 0.9, 0.999, 1 - 1e-9, 1];
    for (const share of shares.slice(3, -2)) {
      expect(normalShare(normalScore(share))).toBeCloseTo(share, 7);
      expect(Math.abs(quickNormalScore(share) - normalScore(share))).toBeLessThan(4.6e-4);
    }
    expectRecorded('numbers-of-normals', [
      ...lines,
      ...shares.map(
        (share) => `${String(share)}: ${digits([normalScore(share), quickNormalScore(share)], 8)}`,
      ),
    ]);
  });

  it('as the goodness of a fit measures them', () => {
    const values = Float64Array.from(spread(9).toSorted((a, b) => a - b));
    const lines = (['lognormal', 'exponential'] as const).flatMap((kind) => [
      digits(
        [
          kind,
          distanceOf(values, shareOf(kind, values)),
          [0.1, 0.5, 2, 900].map(shareOf(kind, values)),
        ],
        8,
      ),
      digits(
        [1, 2, 5, 12, 800].map((count) => chanceDistance(kind, count)),
        8,
      ),
      digits(chanceDistance(kind, 12, 0.5), 8),
    ]);
    expectRecorded('numbers-of-goodness', lines);
  });

  it('of rates by the hour', () => {
    const kinds = (value: (kind: number) => number) =>
      Float64Array.from({ length: 48 }, (_, kind) => value(kind));
    const lines = [
      hourRates(
        kinds((kind) => kind % 5),
        kinds(() => 2),
      ),
      hourRates(
        kinds((kind) => (kind < 24 ? 3 : 0)),
        kinds(() => 1),
      ),
      hourRates(
        kinds((kind) => (kind < 24 ? 0 : 3)),
        kinds(() => 1),
      ),
      hourRates(
        kinds(() => 1),
        kinds((kind) => (kind < 24 ? 4 : 0)),
      ),
      hourRates(
        kinds(() => 1),
        kinds((kind) => (kind < 24 ? 0 : 4)),
      ),
      hourRates(
        kinds((kind) => (kind < 24 ? 0.001 : 50)),
        kinds((kind) => kind % 7),
      ),
      hourRates(
        kinds(() => 0),
        kinds(() => 0),
      ),
    ].map((rates) => digits(rates));
    expectRecorded('numbers-of-rates', lines);
  });

  it('as they are drawn from known numbers', () => {
    const from = (numbers: readonly number[]) => {
      let at = 0;
      return { unit: () => numbers[at++ % numbers.length] ?? 0 };
    };
    const units = [0, 0.25, 0.5, 0.999_999, 0.1, 0.75, 0.3, 0.9];
    const durations: readonly DurationDistribution[] = [
      { kind: 'fixed', ms: trueMs(7) },
      { kind: 'drawn', ms: [1, 2, 3].map((ms) => trueMs(ms)) },
      { kind: 'exponential', meanMs: trueMs(1_000) },
      { kind: 'exponential', meanMs: trueMs(3e12) },
      { kind: 'lognormal', medianMs: trueMs(1_000), sigma: 0.5 },
      { kind: 'lognormal', medianMs: trueMs(1_000), sigma: 0 },
    ];
    const counts: readonly CountDistribution[] = [
      { kind: 'fixed', count: 3 },
      { kind: 'geometric', mean: 2 },
      { kind: 'poisson', mean: 3 },
      { kind: 'drawn', counts: [1, 5] },
    ];
    const lines = [
      ...durations.map((one) => {
        const random = from(units);
        const draw = drawer(one, random, normalsFrom(random));
        return digits([one.kind, units.map(() => draw())]);
      }),
      ...[-0.1, 0, 1e-9, 0.3, 1, 2].map((share) => {
        const draw = briefOnes(share, from(units));
        return digits([share, units.map(() => draw())]);
      }),
      digits(counts.map((one) => meanOpenings(one))),
      digits(
        (() => {
          const normals = normalsFrom(from(units));
          const drawn = [normals.next(), normals.next(), normals.next()];
          normals.restart();
          return [...drawn, normals.next()];
        })(),
        9,
      ),
    ];
    expectRecorded('numbers-drawn', lines);
  });
});
