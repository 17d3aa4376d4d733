// Published figures of batteries, through the closed form of a quiet door.

import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  calibrate,
  lifeMs,
  meanNa,
  nahOf,
  quietUse,
  separate,
  spend,
} from '../../src/battery/index.js';
import { biasNa, type SupplySettings } from '../../src/model/index.js';
import { faultsOf, supplyWith, watchFileWith } from '../battery/supplies.js';
import { plainWatch, rangesWith, watchWith } from '../support/experiments.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const plain = quietUse(plainWatch, rangesWith({}));

/** The charge that is gone after so long, of a device that does nothing. */
function goneNah(supply: SupplySettings, share: number): number {
  const life = lifeMs(spend(plain, supply), { ...supply, usablePpm: share });
  return (life ?? 0) / dayMs;
}

describe('"Calculating Battery Lifetime", Electronic Design', () => {
  // 220 mAh; an hour a day awake, 23 h at 2 µA. Printed as 6.4 and 5.6 years; its years have 365 days.
  it.each([
    ['47.8uA', 3.9083, 6.426],
    ['61uA', 4.4583, 5.633],
  ])('with %s awake draws %d µA on average and lasts %d years', (current, microamperes, years) => {
    const supply = supplyWith(
      `{ capacity: 220mAh, sleepCurrent: 2uA, boot: { current: ${current} } }`,
    );
    const watch = watchWith({ checkIntervalMs: deviceMs(23 * hourMs) });
    const spending = spend(quietUse(watch, rangesWith({ bootMs: hourMs })), supply);
    expect(meanNa(spending) / 1_000).toBeCloseTo(microamperes, 3);
    expect((lifeMs(spending, supply) ?? 0) / (365 * dayMs)).toBeCloseTo(years, 2);
  });
});

describe('TI SWRA659A: the charge of a wake that sends', () => {
  // 1 mC is 1/3.6 µAh.
  it.each([
    ['3.8mC', 'one UDP packet', 1_056],
    ['13.3mC', 'with TCP and TLS', 3_694],
  ])('%s, %s, is whole nAh', (charge, _, nanoampereHours) => {
    const supply = supplyWith(
      `{ capacity: 600mAh, sleepCurrent: 0uA, connect: { charge: ${charge} } }`,
    );
    const use = { ...plain, heartbeats: { count: 1, ms: 4_000 } };
    const beat = spend(use, supply).parts.find(({ activity }) => activity === 'heartbeat');
    expect(nahOf(beat?.chargePc ?? 0n)).toBe(nanoampereHours);
  });
});

describe('Battery University BU-802b: lithium-ion at rest', () => {
  const supply = supplyWith(
    '{ capacity: 600mAh, sleepCurrent: 0uA, selfDischarge: { firstDay: 5%, perMonth: 2%, protectionPerMonth: 3% } }',
  );

  it('loses 5 % in the first day, then 1 to 2 % a month and 3 % for its protection circuit', () => {
    // The first day takes its part of the month too: 5.1666 % are gone after a day.
    expect(goneNah(supply, 51_666)).toBeCloseTo(1, 3);
    expect(goneNah(supply, 100_000)).toBeCloseTo(30, 6);
    expect(goneNah(supply, 150_000)).toBeCloseTo(60, 6);
  });
});

describe('400 mAh at a check every 3 minutes (common practice, no source)', () => {
  const supply = supplyWith('{ capacity: 400mAh, sleepCurrent: 0uA, boot: { current: 45mA } }');

  it('that last 21 to 22 days mean about 0.76 to 0.79 mA', () => {
    for (const [days, milliamperes] of [
      [21, 0.7937],
      [22, 0.7576],
    ] as const) {
      const measured = { capacityNah: 400_000_000, lifeMs: days * dayMs };
      const found = calibrate(measured, plain, supply);
      if (found.kind === 'unexplained') throw new Error('the wakes alone take 0.1 mA');
      expect(meanNa(spend(plain, found.supply)) / 1e6).toBeCloseTo(milliamperes, 3);
      // 400 ms at 45 mA every 180.4 s.
      const wakesNa = (45_000_000 * 400) / 180_400;
      expect(found.sleepNa).toBeCloseTo(((milliamperes * 1e6 - wakesNa) * 180.4) / 180, -3);
    }
  });
});

describe('a BLE thermometer on 220 mAh: 43 days at a message every 0.05 s, 765 days at one every second (HACARUS, 2021)', () => {
  // Worked from these lives with I = I0 + q/T: I0 = 1.393 µA and q = 10.589 µC; the article states 1.5 µA.
  it('takes 1.393 µA and 10.589 µC a message', () => {
    const supply = supplyWith('{ capacity: 220mAh, usable: 100%, sleepCurrent: 0uA }');
    const life = (days: number, perSecond: number) => ({
      measured: { capacityNah: 220_000_000, lifeMs: days * dayMs },
      use: { ...plain, lengthMs: dayMs, boots: { count: 86_400 * perSecond, ms: 0 } },
    });
    const found = separate(life(43, 20), life(765, 1), supply);
    if (found.kind !== 'explained') throw new Error('both lives are of one device');
    expect(found.sleepNa / 1e3).toBeCloseTo(1.393, 2);
    expect((found.wakePc ?? 0) / 1e6).toBeCloseTo(10.589, 2);
  });
});

describe('presets, each current from its source', () => {
  const ofPreset = (preset: string) => {
    const { supply } = watchFileWith(`{ preset: ${preset}, capacity: 1200mAh }`);
    if (supply === null) throw new Error('there is a supply');
    const { sleepNa, boot, connect, hold } = supply;
    return { sleepNa, boot, connect, hold };
  };
  const current = (milliamperes: number) => ({
    kind: 'current',
    currentNa: Math.round(milliamperes * 1e6),
    timeMs: null,
  });
  // A Wi-Fi chip maker's guide to low power in Wi-Fi scenarios, station with DTIM 1: 31.12 mA with only the radio asleep,
  // 22.65 mA with the clock scaled as well, 5 µA in deep sleep.
  const [radioAsleep, slowedDown, deepSleepNa] = [current(31.12), current(22.65), 5_000];
  // TI SWRA659A: 13.3 mC for a wake that sends with TCP and TLS.
  const tlsSend = { kind: 'charge', chargePc: 13_300_000_000 };

  it('of a bare board', () => {
    // A published bench table of a regulator board: 65 µA without load at 3 V in, of which its chip takes 28 µA. TI CC3220 data
    // sheet, from memory: 59 mA receiving.
    const regulatorNa = 65_000;
    expect(ofPreset('bare-board')).toEqual({
      sleepNa: regulatorNa + deepSleepNa,
      boot: radioAsleep,
      connect: current(59),
      hold: radioAsleep,
    });
  });

  it('of a tuned board', () => {
    // TI TPS62801 data sheet: 2.3 µA typical without load.
    expect(ofPreset('tuned-board')).toEqual({
      sleepNa: 2_300 + deepSleepNa,
      boot: slowedDown,
      connect: tlsSend,
      hold: slowedDown,
    });
  });

  it('of a bare radio module', () => {
    // TI CC3220 data sheet, from memory: 4.5 µA in hibernate, 59 mA receiving.
    expect(ofPreset('bare-radio-module')).toEqual({
      sleepNa: 4_500,
      boot: radioAsleep,
      connect: tlsSend,
      hold: current(59),
    });
  });
});

describe('a pull-up over a closed contact (V over R)', () => {
  it.each([
    ['45kOhm', 73],
    ['10kOhm', 330],
  ])('of %s at 3.3 V conducts %i µA', (resistance, microamperes) => {
    const { contactBias } = supplyWith(
      `{ capacity: 600mAh, sleepCurrent: 0uA, contactBias: { resistance: ${resistance} } }`,
    );
    if (contactBias === null) throw new Error('there is a pull-up');
    expect(Math.round(biasNa(contactBias) / 1_000)).toBe(microamperes);
  });

  it('cannot be of no resistance', () => {
    const supply = '{ capacity: 600mAh, sleepCurrent: 0uA, contactBias: { resistance: 0Ohm } }';
    expect(faultsOf(supply)).toEqual(['out-of-range']);
  });
});
