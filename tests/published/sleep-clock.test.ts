// STM32L151, low-speed internal oscillator, by its data sheet: 26, 38 and 56 kHz at least, typically, at most. Worked:
// a sleep of 300 s, timed as if at 38 kHz, then lasts from 203.6 s to 438.5 s.
import { describe, expect, it } from 'vitest';
import { deviceMs, lastsMs, ppm } from '../../src/base/index.js';
import { timingWith, traceOf } from '../support/experiments.js';

const sleep = deviceMs(300_000);
const bootMs = 400;
const connectMs = 4_000;

function errorPpm(kiloHertz: number): number {
  return Math.round((38 / kiloHertz - 1) * 1_000_000);
}

describe('a 300 s sleep on the oscillator of an STM32L151', () => {
  it.each([
    [56, 203.6],
    [38, 300],
    [26, 438.5],
  ])('at %i kHz lasts %f s', (kiloHertz, seconds) => {
    const lengthMs = lastsMs(sleep, ppm(errorPpm(kiloHertz)));
    expect(Math.round(lengthMs / 100) / 10).toBe(seconds);
  });

  it.each([56, 38, 26])('at %i kHz moves the worst and the best latency along', (kiloHertz) => {
    const lasts = lastsMs(sleep, ppm(errorPpm(kiloHertz)));
    const latencyOf = (fromMs: number) => {
      const { alerts } = traceOf(
        { lengthMs: 3_000_000, openings: [[fromMs, Number.POSITIVE_INFINITY]] },
        {
          watch: { checkIntervalMs: sleep, recheckIntervalMs: sleep },
          timing: timingWith({ bootMs, connectMs, errorPpm: errorPpm(kiloHertz) }),
        },
      );
      return (alerts[0]?.deliveredMs ?? Number.NaN) - fromMs;
    };
    const secondCheckMs = bootMs + lasts + bootMs;
    // Opened at a check: the next one decides. Opened a millisecond later: the one after that.
    expect(latencyOf(secondCheckMs)).toBe(lasts + bootMs + connectMs);
    expect(latencyOf(secondCheckMs + 1)).toBe(2 * (lasts + bootMs) - 1 + connectMs);
  });
});
