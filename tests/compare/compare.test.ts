// Device logs made from simulated devices: what was changed in them is found, and nothing else.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import { compareDevice } from '../../src/compare/index.js';
import type { DeviceLogRow } from '../../src/scenarios/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, timingWith } from '../support/experiments.js';

/** What a device would log of a run. */
function logOf(experiment: Experiment): DeviceLogRow[] {
  const source = { file: 'device.csv' };
  return expandWakes(simulate(experiment)).flatMap((wake): DeviceLogRow[] => {
    const { cause, wakeMs, checkMs, contact, alertSend, heartbeatSend } = wake;
    const send = alertSend ?? heartbeatSend;
    const event = alertSend === null ? 'heartbeat' : 'alert';
    return [
      ...(cause === 'power-on' || cause === 'reset'
        ? [{ event: cause, atMs: wakeMs, source }]
        : []),
      ...(checkMs === null || contact === null
        ? []
        : [{ event: 'check' as const, atMs: checkMs, contact, source }]),
      ...(send === null || send.outcome === 'cutOff'
        ? []
        : [{ event, atMs: send.endMs, delivered: send.outcome === 'delivered', source } as const]),
    ];
  });
}

const minuteMs = 60_000;
const world = {
  lengthMs: 12 * 60 * minuteMs,
  openings: [
    [60 * minuteMs, 61 * minuteMs],
    [200 * minuteMs, 290 * minuteMs],
    [400 * minuteMs, 420 * minuteMs],
  ] as const,
  networkDown: [[200 * minuteMs, 212 * minuteMs]] as const,
  resetsMs: [500 * minuteMs],
};

function found(experiment: Experiment, rows: readonly DeviceLogRow[]) {
  const { program, timing } = experiment;
  return compareDevice({ program, timing, world: experiment.world, rows });
}

describe('a device log against its watch', () => {
  it('of a device that does as it should shows nothing but its clock error', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -40_000, max: 40_000 }),
        fc.constantFrom('timer', 'opening', 'any-change'),
        fc.constantFrom('keep-watching', 'hold-until-reset'),
        fc.constantFrom(60_000, 180_000),
        (errorPpm, wakeOn, afterAlert, recheckMs) => {
          const experiment = experimentOf(world, {
            timing: timingWith({ errorPpm }),
            watch: { wakeOn, afterAlert, recheckIntervalMs: deviceMs(recheckMs) },
          });
          const { clock, missingChecks, misreadings, alerts, otherInterval, checksAfterHold } =
            found(experiment, logOf(experiment));
          expect({ missingChecks, misreadings, alerts, otherInterval, checksAfterHold }).toEqual({
            missingChecks: [],
            misreadings: [],
            alerts: [],
            otherInterval: null,
            checksAfterHold: [],
          });
          if (wakeOn === 'timer') expect(Math.abs((clock?.ppm ?? 1e6) - errorPpm)).toBeLessThan(20);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('stamped in whole seconds gives a narrow interval with the clock error in it', () => {
    const experiment = experimentOf(world, { timing: timingWith({ errorPpm: 12_000 }) });
    const rows = logOf(experiment).map((row) => ({
      ...row,
      atMs: Math.floor(row.atMs / 1_000) * 1_000,
    }));
    const { clock } = found(experiment, rows);
    expect(clock?.lowPpm).toBeLessThan(12_000);
    expect(clock?.highPpm).toBeGreaterThan(12_000);
    expect((clock?.highPpm ?? 0) - (clock?.lowPpm ?? 0)).toBeLessThan(2_000);
  });

  it.each([
    [300, 600],
    [500, 5_000],
    [100, 500],
  ])(
    'has the clock error in its interval wherever in the range of %i to %i ms the boots of the device lie',
    (least, most) => {
      const [leastMs, greatestMs] = [trueMs(least), trueMs(most)];
      const experiment = experimentOf(world, {
        timing: timingWith({ bootMs: 500, errorPpm: 5_000 }),
      });
      const { program, timing } = experiment;
      const { clock } = compareDevice({
        program,
        timing: deviceTiming({ ...timing, bootTime: { kind: 'range', leastMs, greatestMs } }),
        world: experiment.world,
        rows: logOf(experiment),
      });
      expect(clock?.lowPpm).toBeLessThanOrEqual(5_000);
      expect(clock?.highPpm).toBeGreaterThanOrEqual(5_000);
    },
  );

  it.each([0, 40_000, -40_000])(
    'tells of checks that never happened, between others and at the end, by a clock that errs by %i ppm',
    (errorPpm) => {
      const experiment = experimentOf(world, { timing: timingWith({ errorPpm }) });
      const all = logOf(experiment);
      const between = (atMs: number): boolean => atMs > 70 * minuteMs && atMs < 190 * minuteMs;
      const late = (atMs: number): boolean => atMs > 550 * minuteMs;
      const rows = all.filter(({ atMs }) => !between(atMs) && !late(atMs));
      const { missingChecks, alerts } = found(experiment, rows);
      expect(missingChecks.map(({ count, beforeMs }) => [count, beforeMs === null])).toEqual([
        [all.filter(({ atMs }) => between(atMs)).length, false],
        [all.filter(({ atMs }) => late(atMs)).length, true],
      ]);
      expect(alerts).toEqual([]);
    },
  );

  it('tells of a check that read wrongly', () => {
    const experiment = experimentOf(world);
    const rows = logOf(experiment);
    const index = rows.findIndex(({ atMs, event }) => event === 'check' && atMs > 30 * minuteMs);
    const changed = rows.map((row, at) =>
      at === index && row.event === 'check' ? { ...row, contact: 'open' as const } : row,
    );
    expect(found(experiment, changed).misreadings).toEqual([
      { atMs: rows[index]?.atMs, read: 'open' },
    ]);
  });

  it('tells of alerts that differ, both ways', () => {
    const experiment = experimentOf(world);
    const rows = logOf(experiment);
    const silent = found(
      experiment,
      rows.filter(({ event }) => event !== 'alert'),
    );
    expect(new Set(silent.alerts.map(({ kind }) => kind))).toEqual(new Set(['not-sent']));
    // Undelivered all the time, an alert is owed once for each opening that is left open.
    expect(silent.alerts.length).toBe(2);
    expect(silent.missingChecks).toEqual([]);
    const extra: DeviceLogRow = {
      event: 'alert',
      atMs: 30 * minuteMs,
      delivered: true,
      source: { file: 'device.csv' },
    };
    const more = [...rows, extra].sort((a, b) => a.atMs - b.atMs);
    expect(found(experiment, more).alerts).toEqual([
      { atMs: 30 * minuteMs, kind: 'sent-without-reason' },
    ]);
  });

  it('goes on looking for missing checks after an alert that was not sent', () => {
    const experiment = experimentOf(world);
    const rows = logOf(experiment);
    const isLost = ({ event, atMs }: DeviceLogRow): boolean =>
      (event === 'alert' && atMs > 400 * minuteMs) ||
      (event === 'check' && atMs > 440 * minuteMs && atMs < 455 * minuteMs);
    const { alerts, missingChecks, clock } = found(
      experiment,
      rows.filter((row) => !isLost(row)),
    );
    expect(alerts.map(({ kind }) => kind)).toEqual(['not-sent']);
    const lost = rows.filter((row) => row.event === 'check' && isLost(row)).length;
    expect(missingChecks.map(({ count }) => count)).toEqual([lost]);
    expect(clock?.sleeps).toBeGreaterThan(200);
  });

  it('takes an alert that comes when the door is shut again for the one that was owed', () => {
    const experiment = experimentOf(world);
    const rows = logOf(experiment);
    const late = rows.flatMap((row): DeviceLogRow[] => {
      if (row.event !== 'alert' || row.atMs < 400 * minuteMs) return [row];
      return row.atMs < 410 * minuteMs ? [{ ...row, atMs: 430 * minuteMs }] : [];
    });
    const { alerts } = found(
      experiment,
      late.toSorted((a, b) => a.atMs - b.atMs),
    );
    expect(alerts.map(({ kind }) => kind)).toEqual(['not-sent']);
  });

  it('tells of checks after an alert where the watch holds until a reset, unless one came', () => {
    const opened = { ...world, networkDown: [] };
    const holding = experimentOf(opened, { watch: { afterAlert: 'hold-until-reset' } });
    const proper = found(holding, logOf(holding));
    expect([proper.checksAfterHold, proper.otherInterval, proper.alerts]).toEqual([[], null, []]);
    const rows = logOf(experimentOf(opened));
    const { checksAfterHold, alerts } = found(holding, rows);
    const after = rows
      .filter(({ event }) => event === 'alert')
      .map(({ atMs }) => ({
        alertMs: atMs,
        atMs: rows.find((row) => row.event === 'check' && row.atMs > atMs)?.atMs,
      }));
    expect(after.length).toBeGreaterThan(1);
    expect(checksAfterHold[0]).toEqual(after[0]);
    // That it does not hold is the whole difference.
    expect(alerts.filter(({ kind }) => kind === 'not-sent')).toEqual([]);
  });

  it('names the setting whose sleep was not kept: a try after a failed attempt', () => {
    const experiment = experimentOf(world);
    const slow = experimentOf(world, { watch: { retryIntervalMs: deviceMs(180_000) } });
    const { missingChecks } = found(experiment, logOf(slow));
    expect(missingChecks.length).toBeGreaterThan(0);
    expect(missingChecks.every(({ isRetry }) => isRetry === true)).toBe(true);
  });

  it('takes rows that the log leaves out for no other interval', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -40_000, max: 40_000 }),
        fc.constantFrom('timer', 'opening', 'any-change'),
        fc.tuple(fc.constantFrom(60_000, 180_000), fc.constantFrom(1, 1_000, 60_000)),
        fc.infiniteStream(fc.integer({ min: 0, max: 9 })),
        (errorPpm, wakeOn, [recheckMs, stampMs], dice) => {
          const resetsMs = [90, 91.5, 170, 333, 500, 501, 640].map((at) => at * minuteMs);
          const experiment = experimentOf(
            { ...world, resetsMs },
            {
              timing: timingWith({ errorPpm }),
              watch: { wakeOn, recheckIntervalMs: deviceMs(recheckMs) },
            },
          );
          const rows = logOf(experiment)
            .filter(() => dice.next().value !== 0)
            .map((row) => ({ ...row, atMs: Math.floor(row.atMs / stampMs) * stampMs }));
          expect(found(experiment, rows).otherInterval).toBeNull();
        },
      ),
      { numRuns: 100 },
    );
  });
});
