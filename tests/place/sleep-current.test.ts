// The current asleep, from readings of a meter and from the fall of a cell's voltage.
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import { supplyLines } from '../../src/cli/place/current-report.js';
import { parseCurrentReadings, type SleepCurrent, sleepCurrentOf } from '../../src/place/index.js';

function foundIn(text: string): SleepCurrent {
  const read = parseCurrentReadings(text, 'readings.csv');
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  return sleepCurrentOf(read.value);
}

function codesIn(text: string): readonly (string | undefined)[] {
  const read = parseCurrentReadings(text, 'readings.csv');
  return read.ok ? [] : read.errors.map(({ code, source }) => `${String(source.line)} ${code}`);
}

describe('the current asleep', () => {
  it('is the mean of a meter, with the interval of Student', () => {
    // Mean 7.4, standard deviation 0.1581, t(4) at 97.5 % = 2.776 (any table): 7.4 ± 0.1963.
    const { byMeter } = foundIn(
      'meter,7.2uA\nmeter,7.3uA\nmeter,7.4 µA\nmeter,7500nA\nmeter,0.0076mA\n',
    );
    expect(byMeter?.na).toBeCloseTo(7_400, 6);
    expect(byMeter?.lowNa).toBeCloseTo(7_204, -1);
    expect(byMeter?.highNa).toBeCloseTo(7_596, -1);
  });

  it('leaves out a reading of a device that was awake, and names its line', () => {
    const found = foundIn('meter,7uA\nmeter,30mA\nmeter,7.2uA\nmeter,7.1uA\n');
    expect(found.odd).toEqual([2]);
    expect(found.byMeter?.highNa).toBeLessThan(8_000);
  });

  it('is what the slope of the voltage shows, less self-discharge, 95 times in 100', () => {
    // An alkaline cell falls from 1580 to 1250 mV over the first half; 0.5 % per month is self-discharge (the table of cells).
    let held = 0;
    for (let draw = 0; draw < 100; draw += 1) {
      const stream = randomStream(`cell ${String(draw)}`, 'volts');
      const na = 200_000 + 800_000 * stream.unit();
      const rows = [0, 2, 4, 6, 8, 10, 12, 14].map((day) => {
        const left = 0.95 - (na * 24 * day) / 2_500e6 - (0.005 / 30) * day;
        const noise = [1, 2, 3].reduce((sum) => sum + stream.unit() - 0.5, 0) * 4;
        const mv = 1_250 + ((left - 0.5) / 0.5) * 330 + noise;
        return `volts,${String(day)}d,${mv.toFixed(3)}mV`;
      });
      const found = foundIn(['cells,alkaline-aa', 'capacity,2500mAh', ...rows].join('\n'));
      const { lowNa = 0, highNa = 0 } = found.byVoltage ?? {};
      if (lowNa <= na && na <= highNa) held += 1;
    }
    expect(held).toBeGreaterThanOrEqual(93);
  });

  it('shows nothing by a voltage that does not fall, or only for hours', () => {
    const cell = 'cells,lithium-coin\ncapacity,220mAh\n';
    const wide =
      'cells,li-ion-18650\ncapacity,2500mAh\nvolts,0d,4.1V\nvolts,4d,4.05V\nvolts,9d,4V\n';
    expect(foundIn(wide).doubt).toBe('too-wide');
    expect(foundIn(`${cell}volts,0d,3V\nvolts,3d,3V\nvolts,7d,3V\n`).doubt).toBe('no-fall');
    expect(foundIn(`${cell}volts,0h,3V\nvolts,1h,3V\nvolts,2h,3V\n`).doubt).toBe('too-short');
    expect(foundIn(`${cell}volts,0d,3V\nvolts,3d,3V\n`).doubt).toBe('too-few');
  });

  it('says where meter and voltage contradict each other', () => {
    const cell = 'cells,alkaline-aa\ncapacity,2500mAh\nmeter,7uA\nmeter,7.1uA\n';
    const falls = 'volts,0d,1.55V\nvolts,5d,1.45V\nvolts,10d,1.35V\nvolts,12d,1.31V\n';
    const found = foundIn(`${cell}${falls}`);
    expect(found.contradict).toBe(true);
    // The line for the watch file says which of the two it takes, and what the other says.
    const [, line = ''] = supplyLines(found) ?? [];
    expect(line).toContain('# by the meter: the larger end of');
    const leastUa = Math.floor((found.byVoltage?.lowNa ?? 0) / 100) / 10;
    expect(line.replaceAll(',', '')).toContain(`by the voltage at least ${String(leastUa)} µA`);
  });

  it('refuses what it cannot read, with the line', () => {
    expect(codesIn('what,value\nmeter,7\nvolts,6d,x\ncells,potato\nseries,0\nlamp,1')).toEqual([
      '2 reading-unreadable',
      '3 reading-unreadable',
      '4 reading-unreadable',
      '5 reading-unreadable',
      '6 reading-unreadable',
    ]);
    expect(codesIn('# nothing\n')).toEqual(['undefined no-readings']);
    expect(codesIn('volts,0d,3V\n')).toEqual(['undefined cells-unknown']);
  });
});
