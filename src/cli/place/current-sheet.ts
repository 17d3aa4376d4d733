// The sheet for measuring the current asleep, for a terminal and as a page to print.
import { paperPage } from '../../sheets/index.js';
import { cautionWords } from '../layout/caution.js';

export const currentCautions: readonly string[] = [
  'Never connect a meter that is set to current across a cell: that is a short circuit. It goes in series, in one wire only.',
  'Do not take a lithium cell apart or solder to it. Disconnect it by its connector, and stop if it is warm, swollen or damaged.',
];

export const currentSteps: readonly string[] = [
  'Give the firmware a long check interval (checkInterval: 1h) and no heartbeats and flash it, shut the door, and disconnect everything else: programmer, lamp, serial cable.',
  'With a meter in series: begin in the range of mA, so that the device can boot, and change to µA when it sleeps. Keep the circuit closed while you change.',
  'Read it 6 times, some minutes apart, only while the device sleeps. The meter drops some voltage itself: a device that then restarts needs a range with a smaller drop.',
  'By the voltage of the cells: read it at rest, at the same time of day and in the same room, at least 3 times over at least a week. Note the days since the first reading.',
  'The voltage is only good for cells whose voltage falls as they empty (alkaline, lithium-ion). Others hardly fall until they are empty: use the meter.',
];

export const afterCurrent =
  'Type a row for each reading into a file: meter,7.3uA or volts,6d,3.92V. With voltages also the cell, the capacity, and the cells in series: cells,li-ion-18650 then capacity,2500mAh then series,1. Then run: dozewatch place readings.csv --sleep-current';

const readings = 10;

export function currentPage(): string {
  const rows = (count: number): string[][] =>
    Array.from({ length: count }, (_, index) => [String(index + 1)]);
  return paperPage({
    title: 'What the device draws asleep',
    cautions: currentCautions,
    steps: currentSteps,
    tables: [
      {
        name: 'Meter in series',
        columns: ['', 'current', 'range', '± (see its manual)'],
        rows: rows(readings),
      },
      {
        name: 'Voltage of the cells at rest',
        columns: ['', 'days', 'voltage', '°C'],
        rows: rows(readings),
      },
    ],
    after: afterCurrent,
    footer: cautionWords,
  });
}
