// Cells as they are bought, against published figures.
import { describe, expect, it } from 'vitest';
import { type CellName, cellCapacityNah, cellNamed, cellNames } from '../../src/model/index.js';
import { faultsOf, supplyWith } from '../battery/supplies.js';

const mah = 1_000_000;

function capacityMah(name: CellName, milliamps: number): number {
  const cell = cellNamed(name);
  if (cell === null) throw new Error(`no cell ${name}`);
  return (cellCapacityNah(cell, milliamps * 1_000_000) ?? 0) / mah;
}

describe('the capacity of an alkaline AA cell', () => {
  // Energizer E91 data sheet (bar chart), quoted by an electronics course page (read).
  it.each([
    [1, 3_000],
    [25, 3_000],
    [100, 2_500],
    [250, 2_000],
    [500, 1_500],
    [900, 1_500],
  ])('at %d mA is %d mAh', (current, capacity) => {
    expect(capacityMah('alkaline-aa', current)).toBe(capacity);
  });

  it('falls along a straight line over the logarithm of the current: 2750 mAh at 50 mA', () => {
    expect(capacityMah('alkaline-aa', 50)).toBeCloseTo(2_750, 6);
  });
});

describe('self-discharge', () => {
  // Worked: 15 % a year for nobody; 1.5 % a year (Rayovac support, read) over 365 days of 30-day months.
  it('of a lithium manganese cell is 1.5 % in a year', () => {
    const { perMonthPpm } = supplyWith('{ cells: lithium-2-3a, sleepCurrent: 5uA }').selfDischarge;
    expect((perMonthPpm * 365) / 30).toBeCloseTo(15_000, -2);
  });

  // Battery University BU-802b (read): 5 % in the first day, 1 to 2 % a month, 3 % for the protection.
  it('of a lithium-ion cell is that of the usual table', () => {
    const supply = supplyWith('{ cells: li-ion-18650, sleepCurrent: 5uA }');
    expect(supply.selfDischarge).toEqual({
      firstDayPpm: 50_000,
      perMonthPpm: 20_000,
      protectionPerMonthPpm: 30_000,
    });
  });
});

describe('a regulator', () => {
  // Input current = Vout·Iout/(Vin·η): 10 µA at 3.3 V from 2.4 V is 17.19 µA at η 0.8, 34.38 µA at η 0.4 (worked).
  it.each([
    ['80%', 17_188],
    ['40%', 34_375],
  ])('with an efficiency of %s draws %d nA for 10 µA', (efficiency, wanted) => {
    const { sleepNa } = supplyWith(
      `{ cells: nimh-aa, series: 2, sleepCurrent: 10uA, regulator: { kind: boost, quiescent: 1uA, efficiency: ${efficiency} } }`,
    );
    expect(sleepNa - 1_000).toBe(wanted);
  });

  // 55 µA of its own under a load of 10 µA: the load is 15.4 % of what the cell gives (worked).
  it('that is linear passes the current on and adds its own', () => {
    const { sleepNa } = supplyWith(
      '{ cells: li-ion-18650, sleepCurrent: 10uA, regulator: { kind: linear, quiescent: 55uA } }',
    );
    expect(10_000 / sleepNa).toBeCloseTo(0.154, 3);
  });
});

describe('the voltage of a coin cell', () => {
  // Silicon Labs cr2032.c, 2015, average of three makers (read): 2.75 V is 50 % left, 2.65 V 35 %, 2.45 V 15 %, 2.2 V 5 %.
  it.each([
    [2_750, 50],
    [2_650, 35],
    [2_450, 15],
    [2_200, 5],
  ])('of %d mV means %d %% left', (mv, percent) => {
    const curve =
      supplyWith('{ cells: lithium-coin, capacity: 220mAh, sleepCurrent: 1uA }').voltageCurve ?? [];
    const above = curve.findIndex(({ voltageMv }) => voltageMv >= mv);
    const [low, high] = [curve[above - 1], curve[above]];
    if (low === undefined || high === undefined) throw new Error('within the curve');
    const part = (mv - low.voltageMv) / (high.voltageMv - low.voltageMv);
    expect(low.leftPpm + part * (high.leftPpm - low.leftPpm)).toBeCloseTo(percent * 10_000, 6);
  });

  // A 30 mA pulse on 20 Ω sags by 0.6 V (Ohm's law, worked): on the 30 Ω of a used cell by 0.9 V, so that a send that
  // needs 2.0 V fails from 2.9 V at rest on, with 80 % left.
  it('sags under a send, which fails first with 80 % left', () => {
    const { cells, usablePpm } = supplyWith(
      '{ cells: lithium-coin, capacity: 220mAh, sleepCurrent: 1uA, connect: { current: 30mA } }',
    );
    expect(cells?.sag).toMatchObject({
      leastMv: 540,
      mostMv: 900,
      neededMv: 2_000,
      neededBy: 'cells',
      keepsMv: 0,
      failsAtPpm: 800_000,
    });
    expect(usablePpm).toBe(200_000);
  });
});

describe('two alkaline AA cells in series', () => {
  it('sag by current times resistance, and hold what one of them holds', () => {
    const { cells, capacityNah, voltageCurve } = supplyWith(
      '{ cells: alkaline-aa, series: 2, sleepCurrent: 10uA, connect: { current: 250mA } }',
    );
    // 250 mA through 2 × 0.3 Ω: 0.150 V (worked).
    expect(cells?.sag?.mostMv).toBe(150);
    expect(capacityNah).toBe(2_000 * mah);
    expect(cells?.capacityNah).toEqual({ least: 1_800 * mah, most: 3_000 * mah });
    expect(voltageCurve?.at(-1)?.voltageMv).toBe(3_160);
    const twice = supplyWith(
      '{ cells: alkaline-aa, parallel: 2, sleepCurrent: 10uA, connect: { current: 250mA } }',
    );
    expect(twice.capacityNah).toBeGreaterThan(2 * capacityNah);
  });

  it('are empty sooner where a regulator needs more than they do', () => {
    const needed = (regulator: string, series = 3) => {
      const { cells } = supplyWith(
        `{ cells: nimh-aa, series: ${String(series)}, sleepCurrent: 10uA, connect: { current: 59mA }, regulator: ${regulator} }`,
      );
      return [cells?.sag?.neededMv, cells?.sag?.neededBy, cells?.sag?.keepsMv];
    };
    // Three NiMH cells are empty at 3 × 1.0 V, four at 4.0 V; 3.3 V and the 0.2 V of a linear regulator are 3.5 V.
    expect(needed('{ kind: linear, quiescent: 5uA }')).toEqual([3_500, 'regulator', 200]);
    expect(needed('{ kind: linear, quiescent: 5uA }', 4)).toEqual([4_000, 'cells', 200]);
    const buck = '{ kind: buck, quiescent: 5uA, efficiency: 85% }';
    expect(needed(buck)).toEqual([3_300, 'regulator', 0]);
    const boost = '{ kind: boost, quiescent: 5uA, efficiency: 85%, voltage: 5V }';
    expect(needed(boost)).toEqual([3_000, 'cells', 0]);
  });

  // Battery University BU-502 (read): what gives 100 % at 27 °C gives typically 50 % at -18 °C.
  it('hold half at -18 °C', () => {
    const cold = supplyWith('{ cells: alkaline-aa, sleepCurrent: 10uA, celsius: -18 }');
    expect(cold.derating).toEqual({ celsius: -18, sharePpm: 500_000 });
    expect(supplyWith('{ cells: alkaline-aa, sleepCurrent: 10uA }').derating).toBeNull();
  });
});

describe('cells that differ from the usual of their kind', () => {
  it('lose what the watch file says, and hold what it says of one cell', () => {
    const given = supplyWith(
      '{ cells: nimh-aa, series: 4, parallel: 2, capacity: 2400mAh, selfDischarge: 2%, sleepCurrent: 1uA }',
    );
    expect(given.selfDischarge).toEqual({
      firstDayPpm: 0,
      perMonthPpm: 20_000,
      protectionPerMonthPpm: 0,
    });
    expect(given.capacityNah).toBe(2 * 2_400 * mah);
    expect(given.cells?.sources[0]).toBe('capacity and self-discharge: the watch file');
    expect(given.cells?.sources.filter((text) => text.includes('self-discharge'))).toHaveLength(1);
  });

  it('keep the self-discharge of their kind in place of that of a preset', () => {
    const { selfDischarge } = supplyWith('{ preset: bare-board, cells: nimh-aa }');
    expect(selfDischarge.firstDayPpm).toBe(125_000);
  });
});

describe('cells in a watch file', () => {
  it.each(cellNames)('%s: every number has a source', (name) => {
    const cell = cellNamed(name);
    const wanted = ['voltage', 'resistance', 'self-discharge'];
    if (cell?.capacity.length !== 0) wanted.push('capacity');
    expect(new Set(cell?.sources.map(({ of }) => of))).toEqual(new Set(wanted));
    const fresh = cell?.voltage.map(({ voltageMv }) => voltageMv) ?? [];
    expect(fresh).toEqual(fresh.toSorted((a, b) => a - b));
  });

  it.each([
    ['{ sleepCurrent: 1uA }', 'missing-key'],
    ['{ cells: li-ion-pouch, sleepCurrent: 1uA }', 'missing-key'],
    ['{ cells: alkaline-aa, usable: 90%, sleepCurrent: 1uA }', 'cells-and-battery'],
    ['{ capacity: 2Ah, series: 2, sleepCurrent: 1uA }', 'without-cells'],
    [
      '{ cells: alkaline-aa, sleepCurrent: 1uA, regulator: { kind: boost, quiescent: 1uA } }',
      'missing-key',
    ],
    [
      '{ cells: lithium-aaa, series: 1, sleepCurrent: 1uA, regulator: { kind: linear, quiescent: 1uA } }',
      'regulator-cannot-raise',
    ],
    [
      '{ cells: alkaline-aa, series: 3, sleepCurrent: 1uA, regulator: { kind: linear, quiescent: 1uA, efficiency: 90% } }',
      'efficiency-of-linear',
    ],
  ])('%s is one error: %s', (supply, code) => {
    expect(faultsOf(supply)).toEqual([code]);
  });
});
