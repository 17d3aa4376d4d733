// A device compared with the watch file of another one: its checks lie at another interval.
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm } from '../../src/base/index.js';
import { compareDevice } from '../../src/compare/index.js';
import type { DeviceLogRow } from '../../src/scenarios/index.js';
import { simulate } from '../../src/sim/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, timingWith } from '../support/experiments.js';

const minuteMs = 60_000;
const world = { lengthMs: 3 * 60 * minuteMs, openings: [[60 * minuteMs, 61 * minuteMs]] as const };

/** The checks of a device. @param keeps which of them are in the log. */
function checksEvery(checkIntervalMs: number, keeps: (index: number) => boolean): DeviceLogRow[] {
  const wakes = expandWakes(
    simulate(experimentOf(world, { watch: { checkIntervalMs: deviceMs(checkIntervalMs) } })),
  );
  const source = { file: 'device.csv' };
  return wakes
    .flatMap(({ checkMs, contact }): DeviceLogRow[] =>
      checkMs === null || contact === null
        ? []
        : [{ event: 'check', atMs: checkMs, contact, source }],
    )
    .filter((_, index) => keeps(index));
}

function intervalOf(dueMs: number, rows: readonly DeviceLogRow[], errsPpm = 0) {
  const experiment = experimentOf(world, {
    watch: { checkIntervalMs: deviceMs(dueMs) },
    timing: {
      ...timingWith({}),
      clockError: { kind: 'drawn', leastPpm: ppm(-errsPpm), greatestPpm: ppm(errsPpm) },
    },
  });
  return compareDevice({ ...experiment, rows });
}

describe('the interval of a device', () => {
  it.each([
    [3, 5],
    [3, 1],
    [10, 3],
    [4, 3],
    [2.4, 3],
  ])('of %s min is not that of a watch file with %s min', (every, due) => {
    const rows = checksEvery(every * minuteMs, () => true);
    const { otherInterval, missingChecks } = intervalOf(due * minuteMs, rows);
    expect(otherInterval?.everyMs).toBeGreaterThan(0.95 * every * minuteMs);
    expect(otherInterval?.everyMs).toBeLessThan(1.05 * every * minuteMs);
    // What lies an interval apart is not missing, but for the sleeps that another setting shortens.
    expect(missingChecks.filter(({ everyMs }) => everyMs === undefined)).toEqual([]);
  });

  it('is as in the watch file where a stretch of checks, or some of them, are missing', () => {
    const rows = checksEvery(3 * minuteMs, (index) => index < 20 || index > 30);
    expect(intervalOf(3 * minuteMs, rows).otherInterval).toBeNull();
    const fewer = checksEvery(3 * minuteMs, (index) => index % 3 !== 1);
    expect(intervalOf(3 * minuteMs, fewer).otherInterval).toBeNull();
  });

  it('is that of a clock that may err by as much', () => {
    const rows = checksEvery(4 * minuteMs, () => true);
    expect(intervalOf(3 * minuteMs, rows, 100_000).otherInterval).not.toBeNull();
    expect(intervalOf(3 * minuteMs, rows, 250_000).otherInterval).toBeNull();
  });

  it.each([
    [5, 6, 10_000],
    [6, 5, 0],
    [5, 3, 100_000],
  ])(
    'of %s min is not that of a clock error of a watch file with %s min',
    (every, due, errsPpm) => {
      const rows = checksEvery(every * minuteMs, () => true);
      const { otherInterval, clock } = intervalOf(due * minuteMs, rows, errsPpm);
      expect(otherInterval).not.toBeNull();
      expect(clock).toBeNull();
    },
  );

  it('is believed where the stamps are whole minutes', () => {
    const rows = checksEvery(1.5 * minuteMs, () => true).map((row) => ({
      ...row,
      atMs: Math.floor(row.atMs / minuteMs) * minuteMs,
    }));
    expect(intervalOf(1.5 * minuteMs, rows).otherInterval).toBeNull();
  });
});
