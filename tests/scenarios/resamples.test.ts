// What a log leaves open of a profile: the profiles that other samples of the same door would have led to.
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import {
  fitProfile,
  generateDoor,
  parseProfile,
  resampleCount,
  resampled,
  type UsageProfile,
} from '../../src/scenarios/index.js';
import { spansOf } from '../../src/world/index.js';

const dayMs = 86_400_000;
const minuteMs = 60_000;
const start = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };

/** A profile fitted to a drawn log of a goose-house hatch. */
function fitted(days: number, perHour: number, asLogged = false): UsageProfile {
  const read = parseProfile(
    `openingsPerHour: { "6-18": ${String(perHour)} }\nduration: 20s\nleaveOpen: { share: 5%, duration: { exponential: { mean: 20m } } }\n`,
    'p.yaml',
  );
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  const span = { start, lengthMs: days * dayMs };
  const door = generateDoor(read.value, span, 'hatch');
  const openings = spansOf(door.map(({ fromMs, toMs }) => [fromMs, toMs] as const));
  const fit = fitProfile({ ...span, openings }, 3 * minuteMs, asLogged);
  if (fit === null) throw new Error('the log has openings');
  return fit.profile;
}

const perHour = ({ openingsPerHour }: UsageProfile): number =>
  openingsPerHour.reduce((sum, rate) => sum + rate, 0);

/** Standard deviation over the mean of the openings a day, over all resamples. */
function spread(profile: UsageProfile): number {
  const rates = Array.from({ length: resampleCount(profile) }, (_, row) =>
    perHour(resampled(profile, row)),
  );
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  const squares = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0);
  return Math.sqrt(squares / (rates.length - 1)) / mean;
}

describe('resamples of a log', () => {
  // Of n independent openings the rate is known to 1/√n of it (Poisson); 40 resamples show that to 11 % of it.
  it('differ in the rate of openings as logs of that length would', () => {
    const few = fitted(20, 0.5);
    expect(spread(few) * Math.sqrt(few.fitted?.openings ?? 0)).toBeGreaterThan(0.6);
    expect(spread(few) * Math.sqrt(few.fitted?.openings ?? 0)).toBeLessThan(1.7);
  });

  it('differ as much where a log of many openings is resampled by fewer days than it has', () => {
    // Single openings of a Poisson process at any hour, about 20,000: half of the days are enough to resample.
    const random = randomStream('many openings');
    const lengthMs = 60 * dayMs;
    const pairs: [number, number][] = [];
    for (let atMs = 0; ; ) {
      atMs += 1_000 - Math.round(255_000 * Math.log(1 - random.unit()));
      if (atMs >= lengthMs) break;
      pairs.push([atMs, atMs + 1_000]);
    }
    const many = fitProfile({ start, lengthMs, openings: spansOf(pairs) }, 3 * minuteMs)?.profile;
    const relative = many === undefined ? 0 : spread(many);
    expect(relative * Math.sqrt(pairs.length)).toBeGreaterThan(0.7);
    expect(relative * Math.sqrt(pairs.length)).toBeLessThan(1.35);
  });

  it.each([false, true])(
    'of few leave-opens know of longer ones than were logged, and of ones just long enough; as logged: %j',
    (asLogged) => {
      const profile = fitted(20, 0.5, asLogged);
      const lengthsOf = ({ leaveOpen, days }: UsageProfile): readonly number[] => {
        const left = (days ?? []).flatMap(({ openings }) => openings.map(({ forMs }) => forMs));
        if (days !== undefined) return left.filter((ms) => ms >= 3 * minuteMs);
        return leaveOpen?.duration.kind === 'drawn' ? leaveOpen.duration.ms : [];
      };
      const logged = lengthsOf(profile);
      expect(profile.fitted?.leaveOpens).toBe(logged.length);
      expect(logged.length).toBeLessThan(30);
      const all = Array.from({ length: resampleCount(profile) }, (_, row) =>
        lengthsOf(resampled(profile, row)),
      ).flat();
      expect(all.some((ms) => ms > Math.max(...logged))).toBe(true);
      expect(all.some((ms) => ms >= 3 * minuteMs && ms < Math.min(...logged))).toBe(true);
    },
  );
});
