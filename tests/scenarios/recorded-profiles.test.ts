// Profiles: what is fitted to logs of several kinds, what is drawn from profiles of every distribution, resamples, and files.
import { describe, expect, it } from 'vitest';
import { randomStream, trueMs, um } from '../../src/base/index.js';
import {
  bouncesTooMuch,
  type DurationDistribution,
  evidenceOf,
  fitProfile,
  generateDoor,
  longBriefsPerYear,
  openingsAYear,
  parseProfile,
  profileText,
  resampleCount,
  resampled,
  type UsageProfile,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { drawCount, drawDuration } from '../../src/scenarios/profile/draw.js';
import { spansOf } from '../../src/world/index.js';
import { drawnLogs, profileTexts } from './profile-texts.js';
import { valueOf } from './reading.js';
import { digestOf, expectRecorded, onOneLine, openSentences, plainText } from './recording.js';

/** Numbers to six digits, which do not depend on how the last bits of a sum fall. */
function rounded(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'number' ? Number(part.toPrecision(6)) : part,
  );
}

describe('a profile fitted to a log', () => {
  it.each(drawnLogs)('of the kind $name is what it was', ({ name, start, lengthMs, pairs }) => {
    const openings = spansOf(pairs());
    const lines = [false, true].flatMap((asLogged) => {
      const fit = fitProfile({ start, lengthMs, openings }, 180_000, asLogged);
      if (fit === null) return ['nothing to fit'];
      const { profile, ...found } = fit;
      const { fitted, days, ...habits } = profile;
      const { resamples = [], ...evidence } = fitted ?? {};
      const written = profileText(profile, ['a log']);
      expect(valueOf(parseProfile(written, 'p.yaml'))).toEqual(profile);
      return [
        rounded(found),
        `  ${rounded(habits)}`,
        `  ${rounded(evidence)} ${rounded(evidenceOf(profile, 180_000))}`,
        `  days ${String(days?.length ?? 0)} ${digestOf(days ?? [])}`,
        ...resamples.slice(0, 3).map((row) => `  ${row.join(' ')}`),
        `  ${String(resamples.length)} resamples ${digestOf(resamples)}`,
        `  ${rounded([longBriefsPerYear(fit), openingsAYear(profile)])}`,
        ...[0, 1, 2, 5].map(
          (row) =>
            `  resampled ${String(resampleCount(profile))} ${digestOf(JSON.parse(rounded(resampled(profile, row))))}`,
        ),
      ];
    });
    expectRecorded(`profile-of-${name.replaceAll(' ', '-')}`, lines);
  });
});

const durations: readonly DurationDistribution[] = [
  { kind: 'fixed', ms: trueMs(20_000) },
  { kind: 'exponential', meanMs: trueMs(45_000) },
  { kind: 'lognormal', medianMs: trueMs(30_000), sigma: 0.9 },
  { kind: 'lognormal', medianMs: trueMs(1), sigma: 5 },
  { kind: 'drawn', ms: [5_000, 9_000, 60_000, 400_000].map((ms) => trueMs(ms)) },
];

const hours = Array.from({ length: 24 }, (_, hour) => (hour % 5 === 0 ? 0 : hour / 40));

const bouncing = (ms: number) => ({
  operateGapUm: um(8_000),
  releaseGapUm: um(12_000),
  bounceMs: trueMs(ms),
});

/** Every distribution with every way to open the door. */
function profilesToDraw(): readonly UsageProfile[] {
  return durations.flatMap((duration, index): UsageProfile[] => {
    const other = durations[(index + 1) % durations.length] ?? duration;
    const rates = { openingsPerHour: hours, weekdayFactor: 1.5, weekendFactor: 0.25 };
    const single: UsageProfile = {
      ...rates,
      duration,
      leaveOpen: index % 2 === 0 ? null : { share: 0.1, duration: other },
    };
    const counts = [
      { kind: 'fixed', count: 3 },
      { kind: 'geometric', mean: 2.5 },
      { kind: 'poisson', mean: 2.5 },
      { kind: 'drawn', counts: [1, 1, 4] },
    ] as const;
    const leaveOpen = { share: 0.05, duration: other };
    return [
      single,
      { ...single, leaveOpen: { share: index % 2, duration: other } },
      ...counts.map(
        (openings, at): UsageProfile => ({
          ...rates,
          duration,
          leaveOpen: at === 1 ? null : leaveOpen,
          visits: {
            openings,
            gap: other,
            ...(at === 2 ? { dependence: { lengths: 0.4, gapAfter: -0.3, lengthAfter: 0.2 } } : {}),
          },
        }),
      ),
    ];
  });
}

const plain: UsageProfile = {
  openingsPerHour: hours,
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: { kind: 'fixed', ms: trueMs(20_000) },
  leaveOpen: null,
};

describe('what is drawn', () => {
  const start = { epochMs: Date.UTC(2026, 9, 23, 5), timeZone: 'Europe/Oslo' };

  it('is the same for each distribution', () => {
    const lines = profilesToDraw().flatMap((profile) => {
      const door = generateDoor(profile, { start, lengthMs: 6 * 86_400_000 }, 'a');
      const worlds = yearWorlds({
        profile,
        contact: bouncing(3),
        outages: { perYear: 5, meanMs: 600_000 },
        powerCuts: { perYear: 2, meanMs: 60_000 },
      });
      const { openings, contact, networkDown, powerLost } = worlds('b', 3);
      return [
        rounded([profile.duration, profile.leaveOpen, profile.visits]),
        `  ${String(door.length)} ${digestOf(door)} ${plainText(door.slice(0, 2))}`,
        `  year: ${[openings, contact, networkDown, powerLost].map((one) => digestOf(one)).join(' ')} ${String(openings.fromMs.length)} of ${rounded(openingsAYear(profile))}`,
        `  other years: ${digestOf([worlds('b', 0).openings, worlds('b', 4).openings, worlds('c', 3).openings])}`,
      ];
    });
    expectRecorded('profile-draws', lines);
  });

  it('of numbers alone, and of whole days', () => {
    const stream = randomStream('recorded');
    const counts = [0, 0.1, 1, 7.5, 40].map((mean) => [
      mean,
      Array.from({ length: 20 }, () => drawCount(mean, stream)),
    ]);
    const lengths = durations.map((one) =>
      Array.from({ length: 12 }, () => drawDuration(one, stream)),
    );
    const days = [0, 1, 2, 3].map((day) => ({
      weekend: day === 3,
      openings: Array.from({ length: day }, (_, at) => ({
        atMs: at * 3_600_000 + day,
        forMs: 5_000 * (at + 1),
      })),
    }));
    const logged = (of: typeof days): UsageProfile => ({ ...plain, days: of });
    const lines = [days, days.slice(0, 3), days.slice(3)].map((of) => {
      const profile = logged(of);
      const door = generateDoor(profile, { start, lengthMs: 9 * 86_400_000 }, 'a');
      const years = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
      return `${digestOf(door)} ${String(door.length)} ${digestOf(years('a', 1))} ${rounded(openingsAYear(profile))} ${digestOf(resampled(profile, 4))}`;
    });
    const tooMuch = [1, 500, 200_000].map((bounceMs) =>
      bouncesTooMuch({
        profile: plain,
        contact: bouncing(bounceMs),
        outages: null,
        powerCuts: null,
      }),
    );
    expectRecorded('profile-numbers', [
      plainText(counts),
      plainText(lengths),
      ...lines,
      plainText(tooMuch),
    ]);
  });
});

describe('a profile file', () => {
  it('is read or refused as before', () => {
    const sentences = openSentences();
    const lines = profileTexts.flatMap((text) => {
      const read = parseProfile(text, 'p.yaml');
      const first = onOneLine(text);
      if (!read.ok)
        return [first, `  ${read.errors.map((error) => sentences.brief(error)).join('; ')}`];
      const written = profileText(read.value, ['as it\r\n\twas']);
      expect(valueOf(parseProfile(written, 'q.yaml'))).toEqual(read.value);
      const others = Array.from({ length: resampleCount(read.value) }, (_, row) =>
        digestOf(resampled(read.value, row)),
      );
      return [
        first,
        `  ${plainText(read.value)}`,
        `  ${onOneLine(written)}`,
        `  ${plainText(evidenceOf(read.value, 180_000))} ${others.slice(0, 8).join(' ')}`,
      ];
    });
    expectRecorded('profile-files', [...lines, ...sentences.list()]);
  });
});
