// Logs of messages from simulated devices of a watch file with ranges: an alert that was taken out is found, or the opening counts as
// not judged; and a log as it came shows nothing.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import { compareDevice, expectedOf } from '../../src/compare/index.js';
import type { DeviceLogRow } from '../../src/scenarios/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, timingWith } from '../support/experiments.js';

const minuteMs = 60_000;
const dayMs = 1_440 * minuteMs;
const judge = { leaveOpenAfterMs: trueMs(10 * minuteMs), reportWithinMs: null, quietUpToMs: null };

/** What a receiver saw of a run. */
function messagesOf(experiment: Experiment): DeviceLogRow[] {
  const source = { file: 'device.csv' };
  return expandWakes(simulate(experiment)).flatMap(({ alertSend, heartbeatSend }) =>
    (['alert', 'heartbeat'] as const).flatMap((event): DeviceLogRow[] => {
      const send = event === 'alert' ? alertSend : heartbeatSend;
      return send?.outcome === 'delivered'
        ? [{ event, atMs: send.endMs, delivered: true, source }]
        : [];
    }),
  );
}

const watches = fc.record({
  checkIntervalMs: fc.constantFrom(2, 5).map((minutes) => deviceMs(minutes * minuteMs)),
  recheckIntervalMs: fc.constant(deviceMs(2 * minuteMs)),
  escalationThreshold: fc.constantFrom({ open: 2, outOf: 2 }, { open: 2, outOf: 3 }),
  clearThreshold: fc.constantFrom(1, 2),
  wakeOn: fc.constantFrom('timer' as const, 'opening' as const, 'any-change' as const),
  unsentWhenShut: fc.constantFrom('send' as const, 'drop' as const),
  alertCooldownMs: fc.constantFrom(0, 20, 600).map((minutes) => deviceMs(minutes * minuteMs)),
});

/** Brief openings and some of over half an hour, with a day of some of them to the next. */
const openings = fc
  .array(
    fc.record({
      afterMs: fc.oneof(
        { weight: 4, arbitrary: fc.integer({ min: 5_000, max: 60 * minuteMs }) },
        { weight: 1, arbitrary: fc.integer({ min: 60 * minuteMs, max: dayMs }) },
      ),
      lengthMs: fc.oneof(
        { weight: 5, arbitrary: fc.integer({ min: 1_000, max: 3 * minuteMs }) },
        { weight: 1, arbitrary: fc.integer({ min: minuteMs, max: 20 * minuteMs }) },
        { weight: 1, arbitrary: fc.integer({ min: 30 * minuteMs, max: 90 * minuteMs }) },
      ),
    }),
    { minLength: 20, maxLength: 60 },
  )
  .map((drawn) => {
    let atMs = 0;
    return drawn.map(({ afterMs, lengthMs }): readonly [number, number] => {
      const fromMs = atMs + afterMs;
      atMs = fromMs + lengthMs;
      return [fromMs, atMs];
    });
  });

const cases = fc.record({ watch: watches, openings, seed: fc.nat().map(String) }).map((one) => {
  const lengthMs = (one.openings.at(-1)?.[1] ?? 0) + dayMs;
  const world = { lengthMs, openings: one.openings };
  const heartbeats = { heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) };
  return {
    ...experimentOf(world, {
      watch: { ...one.watch, ...heartbeats },
      timing: {
        ...timingWith({}),
        bootTime: { kind: 'range', leastMs: trueMs(300), greatestMs: trueMs(500) },
        connectTime: { kind: 'range', leastMs: trueMs(2_000), greatestMs: trueMs(8_000) },
        clockError: { kind: 'drawn', leastPpm: ppm(-10_000), greatestPpm: ppm(10_000) },
      },
    }),
    seed: one.seed,
    openings: one.openings,
  };
});

const fortnight = {
  lengthMs: 14 * dayMs,
  openings: Array.from({ length: 14 }, (_, day): readonly [number, number] => [
    (day + 0.4) * dayMs,
    (day + 0.4) * dayMs + 30 * minuteMs,
  ]),
};

describe('openings that are not judged', () => {
  it('are listed where that takes too long, and others are judged all the same', () => {
    const question = { ...experimentOf(fortnight), judge, rows: [] };
    const expected = expectedOf(question);
    if (expected === null) throw new Error('these are messages');
    const stubborn = {
      ...expected,
      at: (opening: number) => (opening % 2 === 0 ? null : expected.at(opening)),
    };
    const { notJudgedOpenings, alerts } = compareDevice({ ...question, expected: stubborn });
    expect(notJudgedOpenings).toHaveLength(7);
    expect(alerts).toHaveLength(7);
  });

  it('are few of a device that holds after an alert, where heartbeats show that it was reset', () => {
    const holding = experimentOf(fortnight, {
      watch: {
        ...{ afterAlert: 'hold-until-reset', alertCooldownMs: deviceMs(0) },
        ...{ heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) },
      },
    });
    const source = { file: 'device.csv' };
    const rowsOf = (beats: boolean, comes: (day: number) => boolean): DeviceLogRow[] =>
      fortnight.openings.flatMap(([fromMs], day) => [
        ...(beats
          ? [{ event: 'heartbeat', atMs: day * dayMs, delivered: true, source } as const]
          : []),
        ...(comes(day)
          ? [{ event: 'alert', atMs: fromMs + 5 * minuteMs, delivered: true, source } as const]
          : []),
      ]);
    const all = compareDevice({ ...holding, judge, rows: rowsOf(true, () => true) });
    expect([all.alerts, all.heldOpenings]).toEqual([[], []]);
    const one = compareDevice({ ...holding, judge, rows: rowsOf(true, (day) => day !== 9) });
    expect(one.alerts).toEqual([{ atMs: 9.4 * dayMs, kind: 'not-sent' }]);
    const silent = compareDevice({ ...holding, judge, rows: rowsOf(false, (day) => day < 9) });
    expect(silent.alerts).toEqual([]);
    expect(silent.heldOpenings).toHaveLength(5);
  });
});

describe('an opening in the cooldown of an alert that came late', () => {
  const hours = (count: number): number => count * 60 * minuteMs;
  const source = { file: 'device.csv' };
  const missingOf = (alertMs: number, openMs: number) => {
    const world = {
      lengthMs: dayMs,
      openings: [
        [hours(2), hours(2.5)],
        [hours(6), hours(6) + openMs],
      ] as const,
    };
    const watch = { cooldownEndsWhenShut: false, alertCooldownMs: deviceMs(hours(2)) };
    const rows = [{ event: 'alert', atMs: alertMs, delivered: true, source } as const];
    const { alerts } = compareDevice({ ...experimentOf(world, { watch }), judge, rows });
    return alerts.map(({ atMs }) => atMs);
  };

  it('needs no alert while the cooldown may run, and one after it', () => {
    expect(missingOf(hours(2.2), hours(1))).toEqual([hours(6)]);
    expect(missingOf(hours(5.5), hours(1))).toEqual([hours(2)]);
    expect(missingOf(hours(5.5), hours(3))).toEqual([hours(2), hours(6)]);
  });
});

describe('a log of messages from a device of a watch file with ranges', () => {
  it('shows nothing as it came', () => {
    fc.assert(
      fc.property(cases, ({ openings: _, ...experiment }) => {
        const rows = messagesOf(experiment);
        const { alerts, notJudgedOpenings } = compareDevice({ ...experiment, rows, judge });
        expect({ alerts, notJudgedOpenings }).toEqual({ alerts: [], notJudgedOpenings: [] });
      }),
    );
  });

  it('misses each alert that was taken out and had to come at all phases', () => {
    let found = 0;
    fc.assert(
      fc.property(cases, ({ openings: drawn, ...experiment }) => {
        const question = { ...experiment, judge, rows: [] };
        const expected = expectedOf(question);
        const sure = drawn.flatMap(([fromMs, toMs], index) =>
          toMs - fromMs >= judge.leaveOpenAfterMs && expected?.at(index)?.isSure === true
            ? [fromMs]
            : [],
        );
        const { alerts } = compareDevice(question);
        expect(alerts).toEqual(sure.map((atMs) => ({ atMs, kind: 'not-sent' })));
        // At rest a device of any of these watches reports half an hour, however brief openings just before it fall.
        const long = drawn.flatMap(([fromMs, toMs], index) => {
          const quietMs = fromMs - (drawn[index - 1]?.[1] ?? 0);
          const rested = quietMs > 12 * 60 * minuteMs;
          return rested && toMs - fromMs >= 30 * minuteMs ? [fromMs] : [];
        });
        expect(sure).toEqual(expect.arrayContaining(long));
        found += long.length;
      }),
    );
    expect(found).toBeGreaterThan(10);
  });
});
