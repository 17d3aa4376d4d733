// The slope of a straight line and its interval, against a certified regression and a worked one.
import { describe, expect, it } from 'vitest';
import { clockOf, slopeOf, student95 } from '../../src/compare/clock.js';

// NIST StRD "Norris": 36 points (y, x); certified slope 1.00211681802045, standard error 0.000429796848199937 (read).
const norris =
  `0.1 0.2, 338.8 337.4, 118.1 118.2, 888.0 884.6, 9.2 10.1, 228.1 226.5, 668.5 666.3, 998.5 996.3, 449.1 448.6, 778.9 777.0,
559.2 558.2, 0.3 0.4, 0.1 0.6, 778.1 775.5, 668.8 666.9, 339.3 338.0, 448.9 447.5, 10.8 11.6, 557.7 556.0, 228.3 228.1, 998.0 995.8, 888.8 887.6, 119.6 120.2,
0.3 0.3, 0.6 0.3, 557.6 556.8, 339.3 339.1, 888.0 887.2, 998.5 999.0, 778.9 779.0, 10.2 11.1, 117.6 118.3, 228.9 229.2, 668.4 669.1, 449.2 448.9, 0.2 0.5`
    .split(',')
    .map((pair) => pair.trim().split(' ').map(Number))
    .map(([y = 0, x = 0]) => ({ x, y }));

describe('the slope of a line', () => {
  it('is that of the certified regression', () => {
    const found = slopeOf([norris]);
    expect(found?.slope).toBeCloseTo(1.00211681802045, 12);
    expect(found?.standardError).toBeCloseTo(0.000429796848199937, 14);
    expect(found?.degrees).toBe(34);
  });

  it('is common to runs with offsets of their own', () => {
    const found = slopeOf([
      norris.slice(0, 18),
      norris.slice(18).map(({ x, y }) => ({ x, y: y + 500 })),
    ]);
    expect(found?.slope).toBeCloseTo(1.002, 2);
    expect(found?.degrees).toBe(33);
    expect(
      slopeOf([
        [
          { x: 0, y: 0 },
          { x: 1, y: 1 },
        ],
      ]),
    ).toBeNull();
  });
});

// Student's t, two-sided 95 %: 2.446912 for 6 degrees of freedom, 2.032245 for 34 (worked).
it.each([
  [1, 12.7062],
  [6, 2.446912],
  [34, 2.032245],
  [1_000, 1.962339],
])('the 95 %% point of Student’s t with %d degrees of freedom is %d', (degrees, wanted) => {
  expect(Math.abs(student95(degrees) / wanted - 1)).toBeLessThan(0.001);
});

// Clock drift (invented data): hours 0, 24 … 168, device ahead 0 1.9 3.3 5.4 6.9 8.8 10.2 12.3 s: 20.0617 ppm, 19.3190 to
// 20.8045 (worked).
it('the error of a clock that is read once a day is a regression over the whole week', () => {
  const ahead = [0, 1.9, 3.3, 5.4, 6.9, 8.8, 10.2, 12.3];
  const sleeps = ahead.slice(1).map((seconds, index) => ({
    nominalMs: 86_400_000,
    lengthMs: 86_400_000 + 1_000 * (seconds - (ahead[index] ?? 0)),
    continues: index > 0,
  }));
  expect(clockOf(sleeps, 0)).toEqual({ ppm: 20, lowPpm: 19, highPpm: 21, sleeps: 7, bootPpm: 0 });
});

// Sleeps of 240 s, measured to the millisecond: half of a range of boot times of 240 ms is 1,000 ppm.
it.each([false, true])(
  'half of the range of boot times goes into the interval (sleeps on one line: %s)',
  (continues) => {
    const sleeps = [3, 0, 3, 0, 3, 0, 3].map((more, index) => ({
      nominalMs: 240_000,
      lengthMs: 241_200 + more,
      continues: continues && index > 0,
    }));
    const narrow = clockOf(sleeps, 0);
    const wide = clockOf(sleeps, 240);
    expect(wide?.ppm).toBe(narrow?.ppm);
    expect(wide?.bootPpm).toBe(1_000);
    expect((narrow?.lowPpm ?? 0) - (wide?.lowPpm ?? 0)).toBe(1_000);
    expect((wide?.highPpm ?? 0) - (narrow?.highPpm ?? 0)).toBe(1_000);
  },
);
