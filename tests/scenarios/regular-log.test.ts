// A log of visits at fixed hours, all of about one size: the years drawn from its fit have as many openings as the log.
import { expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import { fitProfile } from '../../src/scenarios/profile/fit.js';
import { yearDoors } from '../../src/scenarios/profile/year-doors.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const days = 28;

function regularLog(seed: string) {
  const random = randomStream('regular log', seed);
  const fromMs: number[] = [];
  const toMs: number[] = [];
  for (let day = 0; day < days; day += 1) {
    for (const hour of [6, 11, 16]) {
      let atMs = day * dayMs + hour * hourMs + random.whole(0, 4 * minuteMs);
      const count = random.whole(5, 7);
      for (let index = 0; index < count; index += 1) {
        fromMs.push(atMs);
        atMs += random.whole(10_000, 80_000);
        toMs.push(atMs);
        atMs += random.whole(1 * minuteMs, 7 * minuteMs);
      }
    }
  }
  return { fromMs: Float64Array.from(fromMs), toMs: Float64Array.from(toMs) };
}

// Counted in the log itself, 3 × 6 openings a day: before, the years had 25 to 40 % more.
it.each(['1', '2', '3'])('log %s: years have the openings of the log within a tenth', (seed) => {
  const openings = regularLog(seed);
  const start = { epochMs: Date.UTC(2026, 8, 7), timeZone: 'UTC' };
  const fit = fitProfile({ start, lengthMs: days * dayMs, openings }, 6 * minuteMs);
  if (fit === null) throw new Error('the log has openings');
  expect(fit.profile.visits?.openings.kind).toBe('drawn');
  const draw = yearDoors(fit.profile);
  let drawn = 0;
  for (let year = 0; year < 7; year += 1) drawn += draw('regular', year).fromMs.length;
  const logged = (openings.fromMs.length * 365) / days;
  expect(drawn / 7 / logged).toBeGreaterThan(0.9);
  expect(drawn / 7 / logged).toBeLessThan(1.1);
});
