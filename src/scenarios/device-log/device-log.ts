// A log that the real device wrote: when it woke, what its contact read, what it sent. CSV with a header, or NDJSON.
import {
  type Diagnostic,
  err,
  firstTooDeep,
  ok,
  type Result,
  type SourceRef,
} from '../../base/index.js';
import { mostDeviceLogRows, mostLevels } from '../../model/index.js';
import { logTimes } from '../log/log-time.js';
import { rowTooDeep } from '../log/ndjson.js';
import { splitRecord } from '../log/record.js';
import { stateWords } from '../log/state-words.js';
import { bad, type Decoded, diagnosed, good, type Problem } from '../text/problem.js';
import { readZone } from '../time/zone.js';

/** One row; instants are milliseconds since 1970-01-01T00:00:00Z, by whatever clock stamped the rows. */
export type DeviceLogRow =
  | { readonly event: 'power-on' | 'reset'; readonly atMs: number; readonly source: SourceRef }
  | {
      readonly event: 'check';
      readonly atMs: number;
      readonly contact: 'open' | 'shut';
      readonly source: SourceRef;
    }
  | {
      readonly event: 'alert' | 'heartbeat';
      readonly atMs: number;
      readonly delivered: boolean;
      readonly source: SourceRef;
    };

const mostErrors = 20;

const events = ['power-on', 'reset', 'check', 'alert', 'heartbeat'];
const outcomes = new Map([
  ['delivered', true],
  ['sent', true],
  ['failed', false],
]);

/**
 * Reads a device log: columns (or NDJSON keys) `time`, `event` and `value`, perhaps among others.
 * @param zone for times without an offset; null: they are UTC.
 * @returns its rows, in the order of their times, without those that are the same as the one before; or the first errors.
 */
export function parseDeviceLog(
  text: string,
  file: string,
  zone: string | null,
): Result<readonly DeviceLogRow[]> {
  const lines = text.replace(/^\ufeff/u, '').split(/\r?\n/u);
  const written = lines
    .map((line, index) => ({ line, source: { file, line: index + 1 } }))
    .filter(({ line }) => line.trim() !== '');
  if (written.length > mostDeviceLogRows) {
    const { problem } = bad(
      'device-log-too-long',
      `has more than ${String(mostDeviceLogRows)} rows`,
    );
    return err(diagnosed(problem, 'the log', { file }));
  }
  const fields = fieldReader(written[0]?.line ?? '');
  if (!fields.ok) return err(diagnosed(fields.problem, null, { file, line: 1 }));
  const read = rowReader(zone);
  if (!read.ok) return err(diagnosed(read.problem, 'the zone', { file: '--zone' }));
  const rows: DeviceLogRow[] = [];
  const errors: Diagnostic[] = [];
  for (const { line, source } of written.slice(fields.value.skip)) {
    const row = read.value(fields.value.of(line), source);
    const lastMs = rows.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
    if (!row.ok) errors.push(diagnosed(row.problem, null, source));
    else if (row.value.atMs < lastMs) errors.push(diagnosed(goesBack, null, source));
    else if (!isSame(rows.at(-1), row.value)) rows.push(row.value);
    if (errors.length >= mostErrors) break;
  }
  return errors.length > 0 ? err(...errors) : ok(rows);
}

/** Loggers that are not sure of a row write it again. */
function isSame(last: DeviceLogRow | undefined, row: DeviceLogRow): boolean {
  if (last?.atMs !== row.atMs || last.event !== row.event) return false;
  if (row.event === 'check') return last.event === 'check' && last.contact === row.contact;
  return !('delivered' in row) || !('delivered' in last) || last.delivered === row.delivered;
}

const unreadableRow = bad('row-unreadable', 'this row is neither CSV nor a JSON object');

const goesBack: Problem = {
  code: 'time-goes-back',
  says: 'this row is earlier than the one above it',
  hint: 'sort the log by time',
};

type Fields = readonly [time: string, event: string, value: string];

interface FieldReader {
  readonly skip: number;
  readonly of: (line: string) => Decoded<Fields>;
}

function fieldReader(first: string): Decoded<FieldReader> {
  if (first.trimStart().startsWith('{')) return good({ skip: 0, of: fieldsOfObject });
  const delimiter = [';', '\t'].find((mark) => first.includes(mark)) ?? ',';
  const names = cells(first, delimiter)?.map((name) => name.toLowerCase()) ?? [];
  const [time, event, value] = ['time', 'event', 'value'].map((name) => names.indexOf(name));
  if (
    time === undefined ||
    event === undefined ||
    value === undefined ||
    time < 0 ||
    event < 0 ||
    value < 0
  ) {
    return bad('device-log-without-header', 'this device log has no header', {
      found: first,
      expected: 'the first line time,event,value, or NDJSON with these keys',
    });
  }
  const of = (line: string): Decoded<Fields> => {
    const parts = cells(line, delimiter);
    if (parts === null) return unreadableRow;
    return good([parts[time] ?? '', parts[event] ?? '', parts[value] ?? '']);
  };
  return good({ skip: 1, of });
}

function cells(line: string, delimiter: string): readonly string[] | null {
  const parts = splitRecord(line, delimiter);
  return parts.ok ? parts.value.map(({ text }) => text.trim()) : null;
}

function fieldsOfObject(line: string): Decoded<Fields> {
  if (firstTooDeep(line, mostLevels) !== null) return { ok: false, problem: rowTooDeep(line) };
  let row: unknown;
  try {
    row = JSON.parse(line);
  } catch {
    return unreadableRow;
  }
  if (typeof row !== 'object' || row === null) return unreadableRow;
  const text = (name: string): string => {
    const value: unknown = Reflect.get(row, name);
    return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
  };
  return good([text('time'), text('event'), text('value')]);
}

/** A problem of one field as a clause of its own. */
function aboutThis({ problem }: { readonly problem: Problem }): Decoded<never> {
  return { ok: false, problem: { ...problem, says: `this ${problem.says}` } };
}

function rowReader(
  zoneName: string | null,
): Decoded<(fields: Decoded<Fields>, source: SourceRef) => Decoded<DeviceLogRow>> {
  const zone = zoneName === null ? null : readZone(zoneName);
  if (zone !== null && !zone.ok) return zone;
  const times = logTimes(zone === null ? null : zone.value);
  const states = stateWords({ open: [], shut: [], unavailable: [] }, 'value');
  return good((fields, source) => {
    if (!fields.ok) return fields;
    const [time, written, value] = fields.value;
    const event = written.toLowerCase();
    const at = times.explain(time);
    if (!at.ok) return aboutThis(at);
    const atMs = at.value;
    switch (event) {
      case 'power-on':
      case 'reset':
        return good({ event, atMs, source });
      case 'check': {
        const state = states.explain(value);
        if (!state.ok) return aboutThis(state);
        return good({ event, atMs, contact: state.value === 1 ? 'open' : 'shut', source });
      }
      case 'alert':
      case 'heartbeat': {
        const delivered = outcomes.get(value.toLowerCase());
        if (delivered !== undefined) return good({ event, atMs, delivered, source });
        return bad('outcome-unknown', 'this is not the outcome of a send', {
          found: value,
          expected: 'delivered or failed',
        });
      }
      default:
        return bad('event-unknown', 'this is not an event of a device', {
          found: written,
          expected: `one of ${events.join(', ')}`,
        });
    }
  });
}
