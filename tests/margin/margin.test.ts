// What is left of the time to a limit.
import { describe, expect, it } from 'vitest';
import {
  airExchange,
  airTauMs,
  celsiusAfter,
  fitWarmUp,
  marginOf,
  namedLimits,
  toLimitMs,
} from '../../src/margin/index.js';

const hourMs = 3_600_000;
const minuteMs = 60_000;
const store = { startCelsius: 1, outsideCelsius: 21 };
const rising = (celsius: number) => ({ celsius, passed: 'rising' }) as const;

describe('a space that warms', () => {
  it('comes 63 % of the way in one time constant', () => {
    expect(celsiusAfter(store, hourMs, hourMs)).toBeCloseTo(21 - 20 / Math.E, 10);
  });

  it('is at its limit when its temperature is, to the millisecond', () => {
    for (const limit of [1.5, 5, 8, 20]) {
      const reached = toLimitMs(store, rising(limit), 5 * hourMs) ?? 0;
      expect(celsiusAfter(store, 5 * hourMs, reached)).toBeLessThanOrEqual(limit);
      expect(celsiusAfter(store, 5 * hourMs, reached + 1)).toBeGreaterThan(limit);
    }
  });

  it('is there at once, or never', () => {
    expect(toLimitMs(store, rising(1), hourMs)).toBe(0);
    expect(toLimitMs(store, rising(21), hourMs)).toBeNull();
    expect(toLimitMs({ startCelsius: 15, outsideCelsius: 5 }, rising(20), hourMs)).toBeNull();
  });

  it('has a limit below it too, for what chilling harms', () => {
    const shed = { startCelsius: 16, outsideCelsius: -4 };
    const limit = { celsius: 6, passed: 'falling' } as const;
    expect(toLimitMs(shed, limit, hourMs)).toBe(Math.floor(hourMs * Math.log(2)));
  });

  it('is less by the time until somebody sees the message', () => {
    const times = {
      ...store,
      limit: rising(11),
      tauMs: hourMs,
      worstDelayMs: 8 * minuteMs,
      responseMs: 20 * minuteMs,
    };
    const [at, seen] = [marginOf(times), marginOf({ ...times, seenAfterMs: 5 * minuteMs })];
    expect(seen.shutAfterMs - at.shutAfterMs).toBe(5 * minuteMs);
    expect((at.leftMs ?? 0) - (seen.leftMs ?? 0)).toBe(5 * minuteMs);
    expect((at.latestReportWithinMs ?? 0) - (seen.latestReportWithinMs ?? 0)).toBe(5 * minuteMs);
  });

  it('leaves what latency and response do not take', () => {
    const question = { ...store, limit: rising(11), tauMs: hourMs };
    const margin = marginOf({ ...question, worstDelayMs: 8 * minuteMs, responseMs: 20 * minuteMs });
    const reached = Math.floor(hourMs * Math.log(2));
    expect(margin).toMatchObject({
      toLimitMs: reached,
      shutAfterMs: 28 * minuteMs,
      leftMs: reached - 28 * minuteMs,
      latestReportWithinMs: reached - 20 * minuteMs,
    });
    const late = marginOf({ ...question, worstDelayMs: 0, responseMs: hourMs });
    expect(late.leftMs).toBeLessThan(0);
    expect(late.latestReportWithinMs).toBeNull();
  });
});

describe('a time constant from readings', () => {
  const source = { file: 'warming.csv' };
  const readings = (rows: readonly (readonly [minutes: number, celsius: number])[]) =>
    rows.map(([minutes, celsius]) => ({ atMs: minutes * minuteMs, celsius, source }));

  it('is found again from the curve that it makes', () => {
    const rows = [0, 7, 19, 40, 90].map((minutes) => {
      return [minutes, celsiusAfter(store, 3 * hourMs, minutes * minuteMs)] as const;
    });
    const fit = fitWarmUp(readings(rows), 21, source);
    if (!fit.ok) throw new Error('they warm');
    expect(fit.value.tauMs / hourMs).toBeCloseTo(3, 9);
    expect(fit.value.startCelsius).toBeCloseTo(1, 9);
    expect(fit.value.worstMisfitCelsius).toBeLessThan(1e-9);
  });

  it('shows how far off it is', () => {
    const fit = fitWarmUp(
      readings([
        [0, 1],
        [10, 3],
        [20, 4],
        [30, 6],
      ]),
      21,
      source,
    );
    expect(fit.ok && fit.value.worstMisfitCelsius).toBeGreaterThan(0.1);
  });

  it.each([
    [[], 'readings-too-few'],
    [[[0, 1]], 'readings-too-few'],
    [
      [
        [0, 3],
        [10, 3],
      ],
      'readings-do-not-warm',
    ],
    [
      [
        [0, 3],
        [10, 2],
        [20, 1],
      ],
      'readings-do-not-warm',
    ],
    [
      [
        [0, 3],
        [10, 21],
      ],
      'reading-beyond-outside',
    ],
    [
      [
        [0, 3],
        [10, 25],
      ],
      'reading-beyond-outside',
    ],
  ] as const)('is refused for %j', (rows, code) => {
    const fit = fitWarmUp(readings(rows), 21, source);
    expect(fit.ok ? [] : fit.errors.map((error) => error.code)).toEqual([code]);
  });
});

describe('air through a doorway', () => {
  it('flows nowhere between equal temperatures, and more the taller the door', () => {
    expect(airExchange({ widthMm: 900, heightMm: 2_000 }, 8, 8).flow).toBe(0);
    expect(airTauMs(12_000, airExchange({ widthMm: 900, heightMm: 2_000 }, 8, 8))).toBeNull();
    const low = airExchange({ widthMm: 1_000, heightMm: 1_000 }, 4, 25).flow;
    const tall = airExchange({ widthMm: 1_000, heightMm: 4_000 }, 4, 25).flow;
    expect(tall / low).toBeCloseTo(8, 10);
  });
});

describe('the named limits', () => {
  it('have names of their own, and a source each', () => {
    const names = namedLimits.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(namedLimits.filter(({ source, about }) => source === '' || about === '')).toEqual([]);
    expect(names).toEqual(
      expect.arrayContaining(['cold-food', 'freezer', 'vaccines', 'cut-flowers']),
    );
  });
});
