// Temperature readings: CSV rows of a time and a temperature, in the order they were taken.

import { type Diagnostic, err, ok, type Result, type SourceRef } from '../../base/index.js';
import { mostReadings } from '../../model/index.js';
import { logTimes } from '../log/log-time.js';
import { splitRecord } from '../log/record.js';
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
  const lines = text.replace(/^\ufeff/u, '').split(/\r?\n/u);
  const rows = lines.map((line, index) => ({ line, source: { file, line: index + 1 } }));
  const [header, ...rest] = rows.filter(({ line }) => line.trim() !== '');
  if (header === undefined) return err(noHeader(file, ''));
  const delimiter = [';', '\t'].find((mark) => header.line.includes(mark)) ?? ',';
  const names = fieldsOf(header.line, delimiter)?.map((name) => name.toLowerCase()) ?? [];
  const time = names.indexOf('time');
  const temperature = names.findIndex((name) => /^temperature|^temp$|^celsius$/u.test(name));
  if (time < 0 || temperature < 0) return err(noHeader(file, header.line));
  if (rest.length > mostReadings) {
    const problem = bad('readings-too-many', `has more than ${String(mostReadings)} rows`);
    return err(diagnosed(problem.problem, 'the file', { file }));
  }
  const readings: TemperatureReading[] = [];
  const errors: Diagnostic[] = [];
  for (const { line, source } of rest) {
    const fields = fieldsOf(line, delimiter);
    const atMs = timeOf(fields?.[time]);
    const celsius = readCelsius(fields?.[temperature] ?? '');
    const lastMs = readings.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
    if (!atMs.ok) errors.push(diagnosed(atMs.problem, 'this', source));
    else if (!celsius.ok) errors.push(diagnosed(celsius.problem, 'this', source));
    else if (atMs.value <= lastMs) errors.push(goesBack(fields?.[time] ?? '', source));
    else readings.push({ atMs: atMs.value, celsius: celsius.value, source });
  }
  return errors.length > 0 ? { ok: false, errors } : ok(readings);
}

function fieldsOf(line: string, delimiter: string): string[] | null {
  const fields = splitRecord(line, delimiter);
  return fields.ok ? fields.value.map(({ text }) => text.trim()) : null;
}

function timeOf(text: string | undefined): Decoded<number> {
  const times = logTimes(null);
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

function noHeader(file: string, found: string): Diagnostic {
  const { problem } = bad('readings-without-header', 'the readings have no header', {
    found,
    expected: 'a first line time,temperature',
    hint: 'add this line above the rows',
  });
  return diagnosed(problem, null, { file, line: 1 });
}
