// When a battery that runs down evenly counts as low, and who charges it after the message. All currents are 1 mA, so that 480 mAh
// last for 20 days to the millisecond; the device checks at 400 ms and every 180 400 ms from there, and sends for 4 s.
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import type { LowBatteryLevel } from '../../src/machine/index.js';
import type { ChargingHabit, SupplySettings } from '../../src/model/index.js';
import { simulate, type Trace } from '../../src/sim/index.js';
import { supplyWith } from '../battery/supplies.js';
import { experimentOf, type WorldNumbers } from '../support/experiments.js';

const dayMs = 86_400_000;
const evenly = supplyWith(
  '{ capacity: 480mAh, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 1mA }, heartbeat: { current: 1mA } }',
);

interface Given {
  readonly level?: LowBatteryLevel;
  readonly repeatMs?: number;
  readonly supply?: Partial<SupplySettings>;
  readonly charging?: Partial<ChargingHabit>;
  readonly isWarningSeen?: (deliveredMs: number) => boolean;
  readonly chargedMs?: readonly number[];
}

function traceOf(world: WorldNumbers, given: Given): Trace {
  const { level, repeatMs = 100 * dayMs, supply, charging, isWarningSeen, chargedMs } = given;
  const lowBattery =
    level === undefined ? {} : { lowBattery: { level, repeatMs: deviceMs(repeatMs) } };
  const plain = experimentOf(world, { watch: lowBattery });
  return simulate({
    ...plain,
    world: {
      ...plain.world,
      ...(chargedMs === undefined ? {} : { chargedMs: Float64Array.from(chargedMs) }),
    },
    charge: {
      supply: { ...evenly, ...supply },
      charging: { everyMs: null, ...charging },
      ...(isWarningSeen === undefined ? {} : { isWarningSeen }),
    },
  });
}

/** The end of a message that the first check at or after this instant makes. */
function deliveredFrom(atMs: number): number {
  return 400 + Math.max(0, Math.ceil((atMs - 400) / 180_400)) * 180_400 + 4_000;
}

const share = (sharePpm: number): LowBatteryLevel => ({ kind: 'share', sharePpm });
const voltage = (voltageMv: number): LowBatteryLevel => ({ kind: 'voltage', voltageMv });

const curve = [
  { leftPpm: 0, voltageMv: 2_500 },
  { leftPpm: 100_000, voltageMv: 3_300 },
  { leftPpm: 400_000, voltageMv: 3_300 },
  { leftPpm: 900_000, voltageMv: 4_300 },
];

/** 240 of the 480 mAh: they last for 10 days. */
const half = { celsius: -18, sharePpm: 500_000 };

describe('a battery counts as low', () => {
  it.each<
    [name: string, level: LowBatteryLevel, days: number | null, supply?: Partial<SupplySettings>]
  >([
    ['at a share of what can be used', share(250_000), 15],
    ['at a share of half of it', share(250_000), 7.5, { usablePpm: 500_000 }],
    ['at a voltage between two points: a tenth of the way down', voltage(4_200), 3],
    ['at a voltage far down between two points', voltage(2_900), 19],
    ['at a voltage of a point', voltage(4_300), 0],
    ['at the voltage of a level stretch, from its beginning', voltage(3_300), 12],
    ['just above a level stretch', voltage(3_301), 11.99],
    ['at once where no voltage of it is higher', voltage(5_000), 0],
    ['never where the voltage goes with the last of the charge', voltage(2_500), null],
    ['never where no voltage of it is as low', voltage(2_400), null],
    ['by all of the charge, not by what can be used', voltage(3_500), 10, { usablePpm: 600_000 }],
    ['never where the device stops before', voltage(3_300), null, { usablePpm: 500_000 }],
    ['in the cold, which leaves half, in half the time', voltage(4_200), 1.5, { derating: half }],
    ['in the cold at a voltage far down', voltage(2_900), 9.5, { derating: half }],
    [
      'in the cold by all that the cold leaves, not by what can be used',
      voltage(3_500),
      5,
      { derating: half, usablePpm: 600_000 },
    ],
    ['never by a voltage without a curve', voltage(4_200), null, { voltageCurve: null }],
    [
      'never below the first point of the curve',
      voltage(3_299),
      null,
      { voltageCurve: curve.slice(1) },
    ],
    [
      'at the first point of the curve',
      voltage(3_300),
      18,
      { voltageCurve: curve.slice(1, 2).concat(curve.slice(3)) },
    ],
  ])('%s', (_, level, days, supply) => {
    const { lowBattery } = traceOf(
      { lengthMs: 22 * dayMs },
      { level, supply: { voltageCurve: curve, ...supply } },
    );
    const wanted = days === null ? [] : [deliveredFrom(days * dayMs)];
    expect(lowBattery.map(({ deliveredMs }) => deliveredMs)).toEqual(wanted);
  });
});

it('counts as low at a check that finds just that much left', () => {
  // 1775 millionths of 20 days.
  const checkMs = 400 + 17 * 180_400;
  expect(checkMs).toBe(1_775 * 1_728);
  const messagesMs = (sharePpm: number) =>
    traceOf({ lengthMs: dayMs }, { level: share(sharePpm) }).lowBattery.map(
      ({ deliveredMs }) => deliveredMs,
    );
  expect(messagesMs(998_225)).toEqual([checkMs + 4_000]);
  expect(messagesMs(998_224)).toEqual([checkMs + 180_400 + 4_000]);
});

describe('who charges after the message', () => {
  const level = share(250_000);
  const messageMs = deliveredFrom(15 * dayMs);
  const charging = { afterWarningMs: 2.5 * dayMs };
  const comesMs = messageMs + charging.afterWarningMs;
  const leftPpm = Math.floor((1 - comesMs / (20 * dayMs)) * 1e6);

  it('comes as long after the first message as they need, whatever follows', () => {
    const { charges, flat } = traceOf(
      { lengthMs: 30 * dayMs },
      { level, repeatMs: dayMs, charging },
    );
    expect(charges).toEqual([{ atMs: comesMs, leftPpm }]);
    expect(flat).toEqual([]);
  });

  it('comes again for the next charge', () => {
    const { charges } = traceOf({ lengthMs: 60 * dayMs }, { level, repeatMs: dayMs, charging });
    expect(charges.length).toBe(3);
    const [first, second] = charges.map(({ atMs }) => atMs);
    // Checks come every three minutes.
    expect((second ?? 0) - (first ?? 0) - 17.5 * dayMs).toBeGreaterThanOrEqual(4_000);
    expect((second ?? 0) - (first ?? 0) - 17.5 * dayMs).toBeLessThan(200_000);
  });

  it('comes at once where they need no time', () => {
    const { charges } = traceOf(
      { lengthMs: 20 * dayMs },
      { level, charging: { afterWarningMs: 0 } },
    );
    expect(charges.map(({ atMs }) => atMs)).toEqual([messageMs]);
  });

  it('does not come at or after the end of the timeline', () => {
    expect(traceOf({ lengthMs: comesMs }, { level, charging }).charges).toEqual([]);
    expect(traceOf({ lengthMs: comesMs + 1 }, { level, charging }).charges.length).toBe(1);
  });

  it('comes for a message that they see', () => {
    const world = { lengthMs: 22 * dayMs };
    const unseen = traceOf(world, { level, charging, repeatMs: dayMs, isWarningSeen: () => false });
    expect(unseen.charges).toEqual([]);
    expect(unseen.flat).toEqual([{ fromMs: 20 * dayMs, toMs: 22 * dayMs }]);
    const isWarningSeen = (ms: number) => ms > 15.5 * dayMs;
    const late = traceOf(world, { level, charging, repeatMs: dayMs, isWarningSeen });
    const [, second] = late.lowBattery;
    expect(late.charges.map(({ atMs }) => atMs)).toEqual([
      (second?.deliveredMs ?? 0) + charging.afterWarningMs,
    ]);
  });

  it('does not come where nobody does', () => {
    expect(traceOf({ lengthMs: 19 * dayMs }, { level }).charges).toEqual([]);
  });
});

describe('charges that are due', () => {
  const chargesMs = (world: WorldNumbers, given: Given) =>
    traceOf(world, given).charges.map(({ atMs }) => atMs);

  it('come after power-on and before the end', () => {
    const world = { lengthMs: 10 * dayMs, powerOnAtMs: dayMs };
    const chargedMs = [0, dayMs, dayMs + 1, 5 * dayMs, 10 * dayMs - 1, 10 * dayMs, 11 * dayMs];
    expect(chargesMs(world, { chargedMs })).toEqual([dayMs + 1, 5 * dayMs, 10 * dayMs - 1]);
  });

  it('of a habit count from power-on, and come once where one is due anyway', () => {
    const world = { lengthMs: 22 * dayMs, powerOnAtMs: dayMs };
    const given = { charging: { everyMs: 7 * dayMs }, chargedMs: [8 * dayMs, 9 * dayMs] };
    expect(chargesMs(world, given)).toEqual([8 * dayMs, 9 * dayMs, 15 * dayMs]);
  });

  it('leave what was left, as a share of what can be used', () => {
    const { charges } = traceOf(
      { lengthMs: trueMs(12 * dayMs) },
      { chargedMs: [5 * dayMs, 9 * dayMs], supply: { usablePpm: 500_000 } },
    );
    expect(charges.map(({ leftPpm }) => leftPpm)).toEqual([500_000, 600_000]);
  });
});
