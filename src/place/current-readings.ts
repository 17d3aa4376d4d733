// Readings for the current asleep: of a meter in series, and of the voltage of the cells over days.
import { type Diagnostic, err, ok, type Result } from '../base/index.js';
import {
  type CellName,
  capacityLimits,
  cellCountLimits,
  cellNames,
  isWithin,
  longestTimelineMs,
  mostSleepNa,
  mostTypedRows,
  voltageLimits,
} from '../model/index.js';

export interface CurrentReadings {
  /** Of the meter, with their lines. */
  readonly meter: readonly { readonly line: number; readonly na: number }[];
  readonly volts: readonly { readonly line: number; readonly atMs: number; readonly mv: number }[];
  /** Null: not stated. */
  readonly cells: CellName | null;
  /** Cells in a row, whose voltages add up. */
  readonly series: number;
  readonly capacityNah: number | null;
}

type Draft = {
  -readonly [Key in keyof CurrentReadings]: CurrentReadings[Key] extends readonly (infer One)[]
    ? One[]
    : CurrentReadings[Key];
};
type Complaint = Pick<Diagnostic, 'code' | 'message' | 'found' | 'hint'>;

const amounts: Readonly<Record<string, number>> = { na: 1, ua: 1_000, µa: 1_000, ma: 1_000_000 };
const instants: Readonly<Record<string, number>> = { h: 3_600_000, d: 86_400_000, w: 604_800_000 };

/**
 * Reads `meter,7.3uA`, `volts,6d,3.92V`, `cells,li-ion-18650`, `series,2`, `capacity,2500mAh`, a row each; lines that begin
 * with # are left out.
 * @returns all readings, or all that is wrong, each with its line.
 */
export function parseCurrentReadings(text: string, file: string): Result<CurrentReadings> {
  const readings: Draft = { meter: [], volts: [], cells: null, series: 1, capacityNah: null };
  const errors: Diagnostic[] = [];
  const lines = text.replace(/^\uFEFF/u, '').split(/\r\n|\r|\n/u);
  for (const [index, row] of lines.slice(0, mostTypedRows).entries()) {
    const written = cellsOf(row);
    const cells = written.map((cell) => cell.toLowerCase());
    if (row.trim() === '' || row.trim().startsWith('#') || cells[0] === 'what') continue;
    const complaint = asWritten(take(readings, cells, index + 1), written);
    if (complaint !== null) {
      errors.push({ severity: 'error', source: { file, line: index + 1 }, ...complaint });
    }
  }
  const lacks = errors.length > 0 ? null : lackOf(readings);
  if (lacks !== null) errors.push({ severity: 'error', source: { file }, ...lacks });
  const [first, ...others] = errors;
  return first === undefined ? ok(readings) : err(first, ...others);
}

/** Whether a row is one of those of this sheet. */
export function isCurrentReading(row: string): boolean {
  const [what = ''] = cellsOf(row);
  return ['meter', 'volts', 'cells', 'series', 'capacity'].includes(what.toLowerCase());
}

/** The cells of a row as they stand there. */
export function cellsOf(row: string): readonly string[] {
  return row.split(/[,;\t]/u).map((cell) => cell.trim());
}

/** A complaint quotes what stands in the file, whatever was made of it to read it. */
export function asWritten<Says extends Pick<Diagnostic, 'found'> | null>(
  says: Says,
  written: readonly string[],
): Says {
  if (says?.found === undefined) return says;
  const { found } = says;
  const whole = written.join(',');
  const cell = [whole, ...written].find((one) => one.toLowerCase() === found);
  return cell === undefined ? says : { ...says, found: cell };
}

function take(readings: Draft, cells: readonly string[], line: number): Complaint | null {
  const [what = '', first = '', second = ''] = cells;
  switch (what) {
    case 'meter': {
      const na = amountIn(first, amounts);
      if (na === null || na > mostSleepNa)
        return unreadable(first, 'a current up to 100 mA', 'meter,7.3uA');
      readings.meter.push({ line, na });
      return null;
    }
    case 'volts': {
      const atMs = amountIn(first, instants);
      const mv = amountIn(second, { v: 1_000, mv: 1 });
      if (atMs === null || atMs > longestTimelineMs) {
        return unreadable(first, 'a time since the first reading', 'volts,6d,3.92V');
      }
      if (mv === null || !isWithin(mv, voltageLimits))
        return unreadable(second, 'a voltage', 'volts,6d,3.92V');
      readings.volts.push({ line, atMs, mv });
      return null;
    }
    case 'cells': {
      const name = cellNames.find((one) => one === first);
      if (name === undefined) return unreadable(first, 'a cell', `cells,${cellNames[0]}`);
      readings.cells = name;
      return null;
    }
    case 'series': {
      const series = /^\d{1,3}$/u.test(first) ? Number(first) : 0;
      if (!isWithin(series, cellCountLimits))
        return unreadable(first, 'a count of cells', 'series,2');
      readings.series = series;
      return null;
    }
    case 'capacity': {
      const nah = amountIn(first, { mah: 1_000_000, ah: 1_000_000_000 });
      if (nah === null || !isWithin(nah, capacityLimits))
        return unreadable(first, 'a capacity', 'capacity,2500mAh');
      readings.capacityNah = nah;
      return null;
    }
    default:
      return unreadable(what, 'meter, volts, cells, series or capacity', 'meter,7.3uA');
  }
}

function amountIn(text: string, units: Readonly<Record<string, number>>): number | null {
  const { digits = '', unit = '' } =
    /^(?<digits>\d{1,9}(?:\.\d{1,9})?)\s*(?<unit>[a-zµ]+)$/u.exec(text)?.groups ?? {};
  const factor = units[unit];
  return digits === '' || factor === undefined ? null : Number(digits) * factor;
}

function unreadable(found: string, what: string, example: string): Complaint {
  return {
    code: 'reading-unreadable',
    message: `this is not ${what}`,
    found,
    hint: `write a row such as ${example}`,
  };
}

function lackOf({ meter, volts, cells, capacityNah }: Draft): Complaint | null {
  if (meter.length === 0 && volts.length === 0) {
    return {
      code: 'no-readings',
      message: 'there is no reading in this file',
      found: '',
      hint: 'print the sheet with "dozewatch place --sleep-current", and write a row for each reading: meter,7.3uA',
    };
  }
  if (volts.length > 0 && (cells === null || capacityNah === null)) {
    return {
      code: 'cells-unknown',
      message: 'voltages show a current only for a known cell of a known capacity',
      ...(cells === null
        ? {
            found: capacityNah === null ? 'neither' : 'a capacity, and no cells',
            hint:
              capacityNah === null
                ? 'add two rows such as cells,li-ion-18650 and capacity,2500mAh'
                : 'add a row such as cells,li-ion-18650',
          }
        : {
            found: `cells,${cells}, and no capacity`,
            hint: 'add a row with the capacity of one cell, such as capacity,2500mAh',
          }),
    };
  }
  return null;
}
