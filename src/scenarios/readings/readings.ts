// Temperature readings: CSV rows of a time and a temperature, in the order they were taken.

import { type Diagnostic, err, ok, type Result, type SourceRef } from '../../base/index.js';
import { mostReadings } from '../../model/index.js';
import { plainName } from '../log/columns.js';
import { type LogTimes, logTimes } from '../log/log-time.js';
import { type ReadRow, readTable, type Table, tableColumn } from '../log/table.js';
import { readCelsius } from '../quantity/amounts.js';
import { readDuration } from '../quantity/duration.js';
import { bad, type Decoded, diagnosed, good } from '../text/problem.js';

/** One row of the file. */
export interface TemperatureReading {
  /** From any fixed instant on. */
  readonly atMs: number;
  readonly celsius: number;
  readonly source: SourceRef;
}

/**
 * Reads a CSV file with the columns `time` and `temperature`, perhaps with others. Times are instants, durations
 * since the first (`10m`), or plain seconds; temperatures are °C unless they say F.
 * @returns the readings, ascending in time; or every row that is wrong.
 */
export function parseReadings(text: string, file: string): Result<readonly TemperatureReading[]> {
  const table = readTable(text);
  const time = tableColumn(table, undefined, ['time', 'timestamp', 'datetime', 'at']);
  const temperature = table.header.find((name) =>
    /^(?:temperature|temp$|celsius$)/u.test(plainName(name)),
  );
  const broken = table.rows.find((row) => !row.ok);
  if (!time.ok || time.value === null || temperature === undefined) {
    if (table.header.length === 0 && broken?.ok === false) return err(unreadable(broken, file));
    return err(noHeader(file, table));
  }
  if (table.rows.length > mostReadings) {
    const problem = bad('readings-too-many', `has more than ${String(mostReadings)} rows`);
    return err(diagnosed(problem.problem, 'the file', { file }));
  }
  const readings: TemperatureReading[] = [];
  const errors: Diagnostic[] = [];
  const columns = { time: time.value, temperature };
  // One for all rows: seconds that are as many as days since 1899 are seconds where other rows are.
  const times = logTimes(null);
  for (const read of table.rows) {
    if (!read.ok) {
      errors.push(unreadable(read, file));
      continue;
    }
    const { row } = read;
    const at = (column: string): SourceRef => ({ file, ...row.place(column) });
    const atMs = timeOf(row.value(columns.time), times);
    const celsius = readCelsius(row.value(columns.temperature) ?? '');
    const lastMs = readings.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
    if (!atMs.ok) errors.push(diagnosed(atMs.problem, 'this', at(columns.time)));
    else if (!celsius.ok) errors.push(diagnosed(celsius.problem, 'this', at(columns.temperature)));
    else if (atMs.value <= lastMs) {
      errors.push(goesBack(row.value(columns.time) ?? '', at(columns.time)));
    } else
      readings.push({ atMs: atMs.value, celsius: celsius.value, source: { file, line: row.line } });
  }
  return errors.length > 0 ? { ok: false, errors } : ok(readings);
}

function unreadable(row: ReadRow & { readonly ok: false }, file: string): Diagnostic {
  return diagnosed(row.problem, null, { file, line: row.line, column: row.column });
}

function timeOf(text: string | undefined, times: LogTimes): Decoded<number> {
  const written = (text ?? '').trim();
  if (/^\d+(?:\.\d+)?\s*[a-z]/iu.test(written)) return readDuration(written);
  const atMs = times.read(written);
  if (written !== '' && !Number.isNaN(atMs)) return good(atMs);
  return bad('time-unreadable', 'is not a time', {
    found: written,
    expected: 'an instant such as 2026-05-08T06:10:00Z, or a duration such as 10m',
  });
}

function goesBack(found: string, source: SourceRef): Diagnostic {
  const problem = bad('time-goes-back', 'is not later than the time in the row above', {
    found,
    hint: 'sort the readings by time',
  });
  return diagnosed(problem.problem, 'this time', source);
}

function noHeader(file: string, { headerText, headerLine }: Table): Diagnostic {
  const { problem } = bad('readings-without-header', 'the readings have no header', {
    found: headerText,
    expected: 'a first line time,temperature',
    hint: 'add this line above the rows',
  });
  return diagnosed(problem, null, { file, line: headerLine });
}
