// How long a charge lasts, when to warn, and what explains a measured life.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  batteryAnswer,
  calibrate,
  costOf,
  lifeMs,
  lifeRangeText,
  lifeText,
  lowBattery,
  quietUse,
  separate,
  setWarning,
  silentForAtMostMs,
  spend,
} from '../../src/battery/index.js';
import type { LowBatteryLevel } from '../../src/machine/index.js';
import { availablePc } from '../../src/model/index.js';
import { simulate } from '../../src/sim/index.js';
import { experimentOf, plainWatch, rangesWith, watchWith } from '../support/experiments.js';
import { faultsOf, supplyWith } from './supplies.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const quiet = quietUse(plainWatch, rangesWith({}));

describe('the life on a charge', () => {
  it('is capacity over current where nothing else takes a part', () => {
    const supply = supplyWith('{ capacity: 240mAh, sleepCurrent: 1mA, boot: { current: 1mA } }');
    expect(lifeMs(spend(quiet, supply), supply)).toBe(240 * hourMs);
    const part = { ...supply, usablePpm: 500_000, derating: { celsius: 4, sharePpm: 800_000 } };
    expect(lifeMs(spend(quiet, part), part)).toBe(96 * hourMs);
  });

  it('loses the first day once, and only a part of it when it ends sooner', () => {
    const supply = supplyWith(
      '{ capacity: 240mAh, sleepCurrent: 1mA, boot: { current: 1mA }, selfDischarge: { firstDay: 5% } }',
    );
    expect(lifeMs(spend(quiet, supply), supply)).toBe(228 * hourMs);
    // 12 mAh in the first day are as 0.5 mA more: 9 mAh last 6 h.
    const nearlyEmpty = { ...supply, usablePpm: 37_500 };
    expect(lifeMs(spend(quiet, nearlyEmpty), nearlyEmpty)).toBe(6 * hourMs);
  });

  it('has no end in sight where nothing is taken, and none is told beyond a hundred years', () => {
    const idle = supplyWith('{ capacity: 1000000Ah, sleepCurrent: 0uA }');
    expect(lifeMs(spend(quiet, idle), idle)).toBeNull();
    const faint = { ...idle, sleepNa: 1 };
    expect(lifeMs(spend(quiet, faint), faint)).toBeNull();
  });

  it('is colder by a curve with straight lines in between', () => {
    const { derating } = supplyWith(
      '{ capacity: 1mAh, sleepCurrent: 1uA, celsius: 5, derating: [{ celsius: 20, share: 100% }, { celsius: 0, share: 80% }] }',
    );
    expect(derating).toEqual({ celsius: 5, sharePpm: 850_000 });
  });
});

describe('the low-battery warning', () => {
  const supply = supplyWith(
    '{ capacity: 400mAh, usable: 90%, sleepCurrent: 500uA, boot: { current: 500uA }, voltageCurve: [{ left: 0%, voltage: 3V }, { left: 100%, voltage: 4V }] }',
  );

  it('comes while 7 days of watching remain, and not a nAh sooner', () => {
    const spending = spend(quiet, supply);
    const low = lowBattery(spending, supply);
    // 0.5 mA for 168 h, and the 40 mAh that cannot be used.
    expect(low?.usableLeftNah).toBe(84_000_001);
    expect(low?.leftPpm).toBe(310_001);
    expect(low?.voltageMv).toBe(3_311);
  });

  it('has the voltage of a curve that the cold squeezes', () => {
    // At −18 °C half of the 400 mAh are left, of which 180 mAh can be used. For 7 days 84 mAh are needed, so that 104 mAh of the 200 are
    // left: 52 % of the way from 3 V to 4 V.
    const cold = { ...supply, derating: { celsius: -18, sharePpm: 500_000 } };
    const low = lowBattery(spend(quiet, cold), cold);
    expect(low?.usableLeftNah).toBe(84_000_001);
    expect(low?.leftPpm).toBe(760_001);
    expect(low?.voltageMv).toBe(3_521);
  });

  it('says how long before the end the message of the watch file comes, at a quiet door and at the costliest one', () => {
    const cold = { ...supply, derating: { celsius: -18, sharePpm: 500_000 } };
    const even = spend(quiet, cold);
    const twice = { ...even, totalPc: even.totalPc * 2n };
    const set = (level: LowBatteryLevel) =>
      setWarning(level, cold, { quiet: even, busiest: { name: 'busy', spending: twice } });
    // 3.5 V: 100 of 200 mAh on the curve are left, 20 of which the device cannot use: 80 mAh at 0.5 mA.
    const byVoltage = set({ kind: 'voltage', voltageMv: 3_500 });
    expect(byVoltage.usableLeftPpm).toBe(444_444);
    expect(byVoltage.beforeEndMs).toBe(160 * hourMs);
    expect(byVoltage.busiest).toEqual({ name: 'busy', beforeEndMs: 80 * hourMs });
    // 45 of 180 mAh.
    expect(set({ kind: 'share', sharePpm: 250_000 }).beforeEndMs).toBe(90 * hourMs);
    // The device stops at a tenth of the curve.
    const never = set({ kind: 'voltage', voltageMv: 3_100 });
    expect([never.usableLeftPpm, never.beforeEndMs, never.endMv]).toEqual([null, null, 3_100]);
    expect(set({ kind: 'voltage', voltageMv: 3_101 }).usableLeftPpm).not.toBeNull();
    // At once: no longer than the whole life.
    expect(set({ kind: 'voltage', voltageMv: 4_000 }).beforeEndMs).toBe(360 * hourMs);
  });

  it.each([4_050, 4_200, 4_400])(
    'comes in a run when it is said to: cold cells, %i mV',
    (voltageMv) => {
      const cold = supplyWith(
        '{ preset: bare-board, cells: nimh-aa, series: 4, regulator: { kind: linear, quiescent: 5uA }, celsius: 5 }',
      );
      const level: LowBatteryLevel = { kind: 'voltage', voltageMv };
      const watch = watchWith({ lowBattery: { level, repeatMs: deviceMs(300 * dayMs) } });
      const even = spend(quietUse(watch, rangesWith({})), cold);
      const said = setWarning(level, cold, {
        quiet: even,
        busiest: { name: null, spending: even },
      });
      const { world, ...rest } = experimentOf({ lengthMs: 150 * dayMs }, { watch });
      const { lowBattery: sent, flat } = simulate({
        ...rest,
        world,
        charge: { supply: cold, charging: { everyMs: null } },
      });
      const [warned, died] = [sent[0]?.deliveredMs ?? Number.NaN, flat[0]?.fromMs ?? Number.NaN];
      // To the check interval, and to what the message itself takes: 59 mA for 4 s, as much as seven minutes of the rest.
      expect(Math.abs(died - warned - (said.beforeEndMs ?? 0))).toBeLessThan(20 * 60_000);
    },
  );

  it('cannot come where a full charge lasts less than 7 days', () => {
    const small = { ...supply, capacityNah: 90_000_000 };
    expect(availablePc(small)).toBeLessThan(84_000_000n * 3_600_000n);
    expect(lowBattery(spend(quiet, small), small)).toBeNull();
  });
});

describe('a watch that dies', () => {
  it('is missed at the heartbeat that does not come', () => {
    const watch = watchWith({ heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) });
    expect(silentForAtMostMs(watch, rangesWith({}))).toBe(dayMs + 180_400 + 4_000);
    expect(silentForAtMostMs(watch, rangesWith({ errorPpm: 10_000 }))).toBe(
      1.01 * dayMs + 1.01 * 180_000 + 400 + 4_000,
    );
  });

  it('is never missed without one', () => {
    expect(silentForAtMostMs(plainWatch, rangesWith({}))).toBeNull();
  });
});

describe('calibration', () => {
  const supply = supplyWith('{ preset: bare-board, capacity: 1200mAh }');

  it('gives back the life that it was calibrated with', () => {
    for (const days of [0.5, 1, 3, 10, 23, 60, 90]) {
      const measured = { capacityNah: 500_000_000, lifeMs: days * dayMs };
      const found = calibrate(measured, quiet, supply);
      if (found.kind === 'unexplained') throw new Error(`${String(days)} days are possible`);
      const life = lifeMs(spend(quiet, found.supply), found.supply) ?? 0;
      // To the nA that the sleep current is rounded to.
      expect(Math.abs(life / measured.lifeMs - 1)).toBeLessThan(1e-4);
    }
  });

  it('separates sleep from wakes by two lives at two intervals, and gives both back', () => {
    const truth = supplyWith(
      '{ capacity: 500mAh, sleepCurrent: 230uA, boot: { charge: 30mC }, selfDischarge: { perMonth: 2% } }',
    );
    const lifeAt = (minutes: number) => {
      const watch = { ...plainWatch, checkIntervalMs: deviceMs(minutes * 60_000) };
      const use = quietUse(watch, rangesWith({}));
      const life = lifeMs(spend(use, truth), truth) ?? 0;
      return { measured: { capacityNah: 500_000_000, lifeMs: life }, use };
    };
    const found = separate(lifeAt(2), lifeAt(10), { ...truth, sleepNa: 1, boot: null });
    if (found.kind !== 'explained') throw new Error('both lives are of one device');
    expect(found.sleepNa / 230_000).toBeCloseTo(1, 5);
    expect((found.wakePc ?? 0) / 30e9).toBeCloseTo(1, 5);
  });

  it('finds two lives at one interval, or a shorter one at the longer interval, to contradict each other', () => {
    const use = (minutes: number) =>
      quietUse({ ...plainWatch, checkIntervalMs: deviceMs(minutes * 60_000) }, rangesWith({}));
    const life = (minutes: number, days: number) => ({
      measured: { capacityNah: 500_000_000, lifeMs: days * dayMs },
      use: use(minutes),
    });
    expect(separate(life(2, 40), life(2, 41), supply)).toEqual({
      kind: 'contradicting',
      sleepNa: null,
      wakePc: null,
    });
    const found = separate(life(2, 40), life(10, 30), supply);
    expect(found.kind === 'contradicting' ? found.wakePc : 0).toBeLessThan(0);
  });

  it('of one life, bounds what any other interval can give', () => {
    const answer = batteryAnswer({
      watch: plainWatch,
      timing: rangesWith({}),
      supply,
      timelines: [],
      measured: { capacityNah: 1_200_000_000, lifeMs: 150 * dayMs },
    });
    const { ranges = [], intervals = [] } = answer.calibration ?? {};
    expect(ranges.map(({ checkIntervalMs }) => checkIntervalMs)).toEqual(
      intervals.map(({ checkIntervalMs }) => checkIntervalMs),
    );
    ranges.forEach(({ leastMs, mostMs }, index) => {
      const life = intervals[index]?.lifeMs ?? 0;
      expect(leastMs ?? 0).toBeLessThanOrEqual(life * 1.0001);
      expect(mostMs ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(life * 0.9999);
    });
    // At the interval it was measured at, there is no doubt.
    expect((ranges[0]?.leastMs ?? 0) / dayMs).toBeCloseTo(150, 2);
    expect((ranges[0]?.mostMs ?? 0) / dayMs).toBeCloseTo(150, 2);
  });

  it('says so when even a sleep that takes nothing would be flat sooner, and when', () => {
    const measured = { capacityNah: 1_200_000_000, lifeMs: 400 * dayMs };
    const found = calibrate(measured, quiet, supply);
    const free = { ...supply, sleepNa: 0 };
    expect(found).toEqual({ kind: 'unexplained', longestMs: lifeMs(spend(quiet, free), free) });
  });

  it('tells what a longer interval and a larger cell would bring', () => {
    const { calibration } = batteryAnswer({
      watch: plainWatch,
      timing: rangesWith({}),
      supply,
      timelines: [],
      measured: { capacityNah: 1_200_000_000, lifeMs: 150 * dayMs },
    });
    const intervals = calibration?.intervals.map(({ lifeMs: life }) => life ?? 0) ?? [];
    expect(calibration?.intervals.map(({ checkIntervalMs }) => checkIntervalMs / 60_000)).toEqual([
      3, 6, 15, 30,
    ]);
    expect(intervals).toEqual([...intervals].sort((a, b) => a - b));
    expect((intervals[0] ?? 0) / dayMs).toBeCloseTo(150, 3);
    const cells = calibration?.cells ?? [];
    expect(cells.map(({ capacityNah }) => capacityNah / 1e6)).toEqual([1_200, 1_800, 2_400, 6_000]);
    // Self-discharge is a share of the cell, so twice the cell lasts less than twice as long.
    expect(cells[2]?.lifeMs ?? 0).toBeGreaterThan(1.5 * 150 * dayMs);
    expect(cells[2]?.lifeMs ?? 0).toBeLessThan(2 * 150 * dayMs);
  });
});

describe('a supply section', () => {
  it('takes from a preset what it does not say itself, and remembers which', () => {
    const supply = supplyWith(
      '{ preset: bare-board, capacity: 1Ah, sleepCurrent: 12uA, boot: { charge: 9mC } }',
    );
    expect(supply).toMatchObject({
      capacityNah: 1_000_000_000,
      usablePpm: 900_000,
      sleepNa: 12_000,
      boot: { kind: 'charge', chargePc: 9_000_000_000 },
      hold: { kind: 'current', currentNa: 31_120_000 },
      preset: {
        name: 'bare-board',
        filled: ['usable', 'selfDischarge', 'connect', 'hold'],
      },
    });
  });

  it.each([
    ['{ capacity: 600mAh }', ['missing-key']],
    ['{ preset: bare-board }', ['missing-key']],
    ['{ preset: bareboard, capacity: 600mAh }', ['unknown-word']],
    ['{ preset: maker-board, capacity: 600mAh }', ['renamed-word']],
    ['{ capacity: -1mAh, sleepCurrent: 1uA }', ['charge-negative']],
    ['{ capacity: 400, sleepCurrent: 1uA }', ['charge-without-unit']],
    ['{ capacity: 600mAh, sleepCurrent: 11A }', ['out-of-range']],
    ['{ capacity: 600mAh, sleepCurrent: 1uA, usable: 101% }', ['out-of-range']],
    [
      '{ capacity: 600mAh, sleepCurrent: 1uA, selfDischarge: { firstDay: 120% } }',
      ['out-of-range'],
    ],
    ['{ capacity: 600mAh, sleepCurrent: 1uA, boot: {} }', ['draw-without-amount']],
    [
      '{ capacity: 600mAh, sleepCurrent: 1uA, boot: { current: 1mA, charge: 1mC } }',
      ['draw-twice'],
    ],
    ['{ capacity: 600mAh, sleepCurrent: 1uA, hold: { charge: 1mC } }', ['hold-not-current']],
    ['{ capacity: 600mAh, sleepCurrent: 1uA, celsius: 4 }', ['missing-key']],
    ['{ capacity: 600mAh, sleepCurrent: 1uA, derating: [] }', ['missing-key']],
    [
      '{ capacity: 600mAh, sleepCurrent: 1uA, contactBias: { resistance: 45k } }',
      ['resistance-unknown-unit'],
    ],
    [
      '{ capacity: 600mAh, sleepCurrent: 1uA, voltageCurve: [{ left: 0%, voltage: 4V }, { left: 9%, voltage: 3V }] }',
      ['curve-not-rising'],
    ],
  ])('%s is one clear error', (supply, codes) => {
    expect(faultsOf(supply)).toEqual(codes);
  });
});

describe('the life of cells of one kind', () => {
  // A boot at the sleep current, so that the use is 1 mA all the time; a send draws 100 mA.
  const supply = supplyWith(
    '{ cells: alkaline-aa, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 100mA } }',
  );

  // The data sheet that is quoted has 3000 mAh at 25 mA and 2500 at 100 mA, and makes differ by 10 %. Self-discharge is in proportion
  // to what the cells hold: 0.5 % in 720 h, beside 1 mA.
  it('is a range over what they may hold, at any use, around the single figure', () => {
    const cost = costOf(quiet, supply);
    const { cells } = cost;
    // As the cells go, sends pull them down too far before the end.
    const usable = supply.usablePpm / 1e6;
    const hours = (mAh: number): number => (usable * mAh) / (1 + (mAh * 0.005) / 720);
    expect((cells?.leastMs ?? 0) / hourMs).toBeCloseTo(hours(2_250), 0);
    expect((cost.lifeMs ?? 0) / hourMs).toBeCloseTo(hours(2_500), 0);
    expect((cells?.mostMs ?? 0) / hourMs).toBeCloseTo(hours(3_000), 0);
    expect(lifeRangeText(cost)).toBe('88 d (12.6 weeks) to 117 d (16.7 weeks)');
  });

  it('is one figure where the file gives the battery itself', () => {
    const cost = costOf(quiet, supplyWith('{ capacity: 480mAh, sleepCurrent: 1mA }'));
    expect(cost.cells).toBeNull();
    expect(lifeRangeText(cost)).toBe(lifeText(cost.lifeMs));
  });
});
