// A log that the real device wrote: when it woke, what its contact read, what it sent. CSV with a header, JSON, or lines of text
// that a pattern takes apart.
import {
  type Diagnostic,
  err,
  hourMs,
  ok,
  type Result,
  type SourceRef,
  shellWord,
} from '../../base/index.js';
import { mostDeviceLogRows, mostListedErrors } from '../../model/index.js';
import { isColumn, plainName } from '../log/columns.js';
import { timeFormatOf } from '../log/door-log.js';
import { orderInDoubt } from '../log/kept-rows.js';
import { type LogTimes, logTimes } from '../log/log-time.js';
import type { TextPlace } from '../log/record.js';
import { openSensors } from '../log/sensors.js';
import { type StateWords, stateWords, unavailable } from '../log/state-words.js';
import { readTable, type Table, type TableRow, tableColumn } from '../log/table.js';
import { bad, type Decoded, diagnosed, good, type Problem } from '../text/problem.js';
import { readZone } from '../time/zone.js';
import type { LogCondition } from '../types.js';

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
      readonly event: 'alert' | 'heartbeat' | 'low-battery';
      readonly atMs: number;
      readonly delivered: boolean;
      readonly source: SourceRef;
    };

/** How to read a device log. */
export interface DeviceLogOptions {
  /** For times without an offset; null: they are UTC. */
  readonly zone: string | null;
  readonly timeFormat?: string | undefined;
  /** The rows come from the last to the first. */
  readonly newestFirst?: boolean | undefined;
  readonly timeColumn?: string | undefined;
  readonly eventColumn?: string | undefined;
  readonly valueColumn?: string | undefined;
  readonly openWords?: readonly string[] | undefined;
  readonly shutWords?: readonly string[] | undefined;
  /** Words for events, as `[word, event]`. */
  readonly eventWords?: readonly (readonly [word: string, event: string])[] | undefined;
  /** Which rows to read, as in a door log. */
  readonly where?: readonly LogCondition[] | undefined;
  /** Lines that were taken apart already, in place of a table. */
  readonly lines?: readonly DeviceLine[] | undefined;
}

/** A line of a serial log, as a pattern took it apart. */
export interface DeviceLine {
  readonly line: number;
  readonly time: string;
  readonly event: string;
  readonly value: string;
}

/** The columns of a device log, or the keys of its objects. */
export function deviceLogColumns(text: string): readonly string[] {
  return readTable(text).header;
}

/** What each event is called. */
const eventNames: ReadonlyMap<string, DeviceLogRow['event']> = new Map([
  ...(['power-on', 'power_on', 'power on', 'poweron', 'boot'] as const).map(
    (word) => [word, 'power-on'] as const,
  ),
  ['reset', 'reset'],
  ['restart', 'reset'],
  ['check', 'check'],
  ['alert', 'alert'],
  ['heartbeat', 'heartbeat'],
  ['alive', 'heartbeat'],
  ...(['low-battery', 'low_battery', 'low battery', 'lowbattery'] as const).map(
    (word) => [word, 'low-battery'] as const,
  ),
]);
const events = 'power-on, reset, check, alert, heartbeat, low-battery';

const outcomes = new Map([
  ...['delivered', 'sent', 'received', 'ok', 'true', '1', 'yes'].map(
    (word) => [word, true] as const,
  ),
  ...['failed', 'fail', 'error', 'false', '0', 'no'].map((word) => [word, false] as const),
]);

/**
 * Reads a device log: columns (or keys) `time`, `event` and `value`, perhaps among others.
 * @returns its rows, in the order of their times, without those that are the same as the one before; or the first errors.
 */
export function parseDeviceLog(
  text: string,
  file: string,
  options: DeviceLogOptions,
): Result<readonly DeviceLogRow[]> {
  const table = readTable(options.lines === undefined ? text : '');
  const count = options.lines?.length ?? table.rows.length;
  if (count > mostDeviceLogRows) {
    const { problem } = bad(
      'device-log-too-long',
      `has more than ${String(mostDeviceLogRows)} rows`,
    );
    return err(diagnosed(problem, 'the log', { file }));
  }
  const zone = options.zone === null ? null : readZone(options.zone);
  if (zone?.ok === false) return err(diagnosed(zone.problem, 'the zone', { file: '--zone' }));
  const format = timeFormatOf(options.timeFormat);
  if (!format.ok) return err(diagnosed(format.problem, null, { file: '--device-time-format' }));
  const fields =
    options.lines === undefined ? tableFields(table, options) : lineFields(options.lines);
  if (!fields.ok) {
    return err(diagnosed(fields.problem, null, { file, line: table.headerLine, column: 1 }));
  }
  const times = logTimes(zone?.value ?? null, format.value);
  const own = { open: options.openWords ?? [], shut: options.shutWords ?? [], unavailable: [] };
  const read = {
    times,
    states: stateWords(own, 'value'),
    words: wordsOf(options.eventWords ?? []),
  };
  for (const one of fields.value) if (one.ok) learnOrder(times, one.time);
  const inOrder = options.newestFirst === true ? fields.value.toReversed() : fields.value;
  const rows = rowsOf(inOrder, file, read);
  if (rows.ok || options.newestFirst === true || inOrder.length < fewestReversed) return rows;
  // Read the other way round without an error: then that is what is wrong with it, and not each row.
  const isBackwards = rows.errors.every(({ code }) => orderCodes.includes(code));
  return isBackwards && rowsOf(fields.value.toReversed(), file, read).ok
    ? err(newestFirst(rows.errors[0]))
    : rows;
}

/** A number over 12 in any row shows whether the day or the month is first in all of them. */
function learnOrder(times: LogTimes, text: string): void {
  if (/^\s*\d{1,2}[-/]\d{1,2}[-/]\d{4}/u.test(text)) times.read(text);
}

/** Two rows in the wrong order show nothing of the rest. */
const fewestReversed = 3;
const orderCodes: readonly string[] = ['clock-restarted', 'time-goes-back'];

function newestFirst(first: Diagnostic | undefined): Diagnostic {
  return {
    code: 'time-goes-back',
    severity: 'error',
    source: first?.source ?? { file: '' },
    message: 'every row is earlier than the one above it: the newest row of this log comes first',
    hint: 'read it from the last row to the first',
    tries: ['--device-newest-first'],
  };
}

interface Reading {
  readonly times: LogTimes;
  readonly states: StateWords;
  readonly words: ReadonlyMap<string, DeviceLogRow['event']>;
}

function rowsOf(
  fields: readonly RowFields[],
  file: string,
  read: Reading,
): Result<readonly DeviceLogRow[]> {
  const rows: DeviceLogRow[] = [];
  const errors: Diagnostic[] = [];
  for (const one of fields) {
    const row = one.ok
      ? rowOf(one, file, read)
      : { ...one, at: { line: one.line, column: one.column } };
    const at = row.ok ? { file, line: one.line } : { file, ...row.at };
    const lastMs = rows.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
    if (!row.ok) errors.push(diagnosed(row.problem, null, at));
    else if (row.value.atMs < lastMs) {
      errors.push(
        goesBack(row.value, lastMs, { ...at, ...(one.ok ? one.at.time : { column: 1 }) }),
      );
    } else if (!isSame(rows.at(-1), row.value)) rows.push(row.value);
    if (errors.length >= mostListedErrors) break;
  }
  if (errors.length > 0) return err(...once(errors, rows.length));
  const { tookUtc } = read.times;
  return tookUtc ? { ok: true, value: rows, warnings: [asUtc(file)] } : ok(rows);
}

/** Where no row could be read, and all for the same reason, one of them stands for the rest. */
function once(errors: readonly Diagnostic[], readRows: number): readonly Diagnostic[] {
  const [first] = errors;
  const isSame = ({ code, hint }: Diagnostic): boolean =>
    code === first?.code && hint === first.hint;
  if (first === undefined || readRows > 0 || errors.length < 2 || !errors.every(isSame))
    return errors;
  return [{ ...first, message: `${first.message}; and so it is in the rows below` }];
}

function asUtc(file: string): Diagnostic {
  return {
    code: 'times-taken-as-utc',
    severity: 'warning',
    source: { file },
    message: 'times without an offset are read as UTC',
    hint: 'if they are local times, name their zone with --zone',
  };
}

/** Loggers that are not sure of a row write it again. */
function isSame(last: DeviceLogRow | undefined, row: DeviceLogRow): boolean {
  if (last?.atMs !== row.atMs || last.event !== row.event) return false;
  if (row.event === 'check') return last.event === 'check' && last.contact === row.contact;
  return !('delivered' in row) || !('delivered' in last) || last.delivered === row.delivered;
}

/** A clock that restarted begins far back, or at a power-on; other rows are only in another order. */
function goesBack(row: DeviceLogRow, lastMs: number, source: SourceRef): Diagnostic {
  const restarted = row.event === 'power-on' || lastMs - row.atMs > hourMs;
  const problem: Problem = restarted
    ? {
        code: 'clock-restarted',
        says: 'the clock that stamped this log restarted here: this row is earlier than the one above it',
        hint: 'use the times of the receiver or recorder, or keep only the rows of one run',
      }
    : {
        code: 'time-goes-back',
        says: 'this row is earlier than the one above it',
        hint: 'sort the log by time',
      };
  return diagnosed(problem, null, source);
}

/** The fields of a row that matter, and the column of each; or what is wrong with the row. */
type RowFields =
  | {
      readonly ok: true;
      readonly line: number;
      readonly time: string;
      readonly event: string;
      /** Null: the log has no such column, and lists what arrived. */
      readonly value: string | null;
      readonly at: {
        readonly time: TextPlace;
        readonly event: TextPlace;
        readonly value: TextPlace;
      };
    }
  | {
      readonly ok: false;
      readonly problem: Problem;
      readonly line: number;
      readonly column: number;
    };

function lineFields(lines: readonly DeviceLine[]): Decoded<readonly RowFields[]> {
  const hasValues = lines.some(({ value }) => value !== '');
  return good(
    lines.map(({ value, ...line }) => {
      const start = { line: line.line, column: 1 };
      const at = { time: start, event: start, value: start };
      return { ok: true, ...line, value: hasValues ? value : null, at };
    }),
  );
}

function tableFields(table: Table, options: DeviceLogOptions): Decoded<readonly RowFields[]> {
  const time = tableColumn(table, options.timeColumn, ['time', 'timestamp', 'datetime', 'at']);
  const event = tableColumn(table, options.eventColumn, ['event', 'type', 'action']);
  const value = tableColumn(table, options.valueColumn, ['value', 'state', 'contact', 'result']);
  for (const column of [time, event, value]) if (!column.ok) return column;
  if (!time.ok || !event.ok || !value.ok) return good([]);
  if (time.value === null || event.value === null) {
    const [broken] = table.rows;
    if (broken?.ok === false && table.header.length === 0) return good([broken]);
    return bad('device-log-without-header', 'this device log has no columns time and event', {
      found: table.headerText,
      expected: 'the first line time,event,value, or JSON with these keys',
      hint: 'name the columns with --device-time-column, --device-event-column and --device-value-column, or take lines of text apart with --line-pattern',
    });
  }
  const names = { time: time.value, event: event.value, value: value.value };
  const chosen = chosenRows(table, options.where ?? [], Object.values(names));
  if (!chosen.ok) return chosen;
  return good(chosen.value.map((row) => (row.ok ? fieldsOf(row.row, names) : row)));
}

const deviceNames: ReadonlySet<string> = new Set(['device', 'device_id', 'sensor', 'door']);

/** Those of one device. */
function chosenRows(
  { header, rows }: Table,
  where: readonly LogCondition[],
  used: readonly (string | null)[],
): Decoded<Table['rows']> {
  const sensors = openSensors(where);
  // Other columns also differ from event to event of one device: a topic, a channel, a source.
  const telling = header.filter((name) => deviceNames.has(plainName(name)));
  sensors.begin(telling, used);
  const chosen = rows.filter((row) => {
    if (!row.ok) return true;
    const valueIn = (name: string): string | null => {
      const column =
        header.find((one) => one === name) ?? header.find((one) => isColumn(one, name));
      return column === undefined ? null : (row.row.value(column) ?? null);
    };
    if (!sensors.isChosen(valueIn)) return false;
    sensors.note(valueIn, row.row.line);
    return true;
  });
  const fault = sensors.fault();
  if (fault === null) return good(chosen);
  const { problem } = fault;
  if (problem.code !== 'several-sensors') return { ok: false, problem };
  return {
    ok: false,
    problem: {
      ...problem,
      expected: 'the rows of one device',
      hint: 'choose one with --where',
    },
  };
}

function fieldsOf(
  row: TableRow,
  names: { readonly time: string; readonly event: string; readonly value: string | null },
): RowFields {
  const { time, event, value } = names;
  return {
    ok: true,
    line: row.line,
    time: row.value(time) ?? '',
    event: row.value(event) ?? '',
    value: value === null ? null : (row.value(value) ?? ''),
    at: {
      time: row.place(time),
      event: row.place(event),
      value: row.place(value ?? event),
    },
  };
}

function wordsOf(
  own: readonly (readonly [word: string, event: string])[],
): ReadonlyMap<string, DeviceLogRow['event']> {
  const words = new Map(eventNames);
  for (const [word, event] of own) {
    const known = eventNames.get(event.trim().toLowerCase());
    if (known !== undefined) words.set(word.trim().toLowerCase(), known);
  }
  return words;
}

type ReadFields =
  | { readonly ok: true; readonly value: DeviceLogRow }
  | { readonly ok: false; readonly problem: Problem; readonly at: TextPlace };

/** A problem of one field as a clause of its own. */
function aboutThis(problem: Problem, at: TextPlace): ReadFields {
  return { ok: false, problem: { ...problem, says: `this ${problem.says}` }, at };
}

/** The form of a door log's times is another option. */
function withOwnOption({ hint, tries, ...problem }: Problem): Problem {
  const own = (text: string): string => text.replaceAll('--time-format', '--device-time-format');
  return { ...problem, hint: hint && own(hint), tries: tries?.map(own) };
}

function rowOf(fields: RowFields & { readonly ok: true }, file: string, read: Reading): ReadFields {
  const { time, at, line } = fields;
  const value = fields.value ?? '';
  const source = { file, line };
  const instant = read.times.explain(time);
  if (!instant.ok) {
    const doubt = read.times.doubtOf(time);
    return doubt === null
      ? aboutThis(withOwnOption(instant.problem), at.time)
      : { ok: false, problem: withOwnOption(orderInDoubt(doubt)), at: at.time };
  }
  const atMs = instant.value;
  const event = read.words.get(fields.event.toLowerCase());
  switch (event) {
    case 'power-on':
    case 'reset':
      return { ok: true, value: { event, atMs, source } };
    case 'check': {
      const state = read.states.explain(value);
      if (!state.ok) return aboutThis(state.problem, at.value);
      if (state.value === unavailable) return aboutThis(noReading(value), at.value);
      return {
        ok: true,
        value: { event, atMs, contact: state.value === 1 ? 'open' : 'shut', source },
      };
    }
    case 'alert':
    case 'low-battery':
    case 'heartbeat': {
      const delivered = fields.value === null ? true : outcomes.get(value.toLowerCase());
      if (delivered !== undefined) return { ok: true, value: { event, atMs, delivered, source } };
      const expected = 'delivered or failed';
      const says = 'is not the outcome of a send';
      return aboutThis({ code: 'outcome-unknown', says, found: value, expected }, at.value);
    }
    case undefined: {
      const problem: Problem = {
        code: 'event-unknown',
        says: 'is not an event of a device',
        found: fields.event,
        expected: `one of ${events}`,
        hint: `if it is one of these, say which, as in --device-event-word ${shellWord(`${fields.event === '' ? 'chk' : fields.event}=${likelyEvent(fields.event, fields.value, read)}`)}`,
      };
      return aboutThis(problem, at.event);
    }
  }
}

/** By what stands beside it, so that the offer works when typed: a check has a reading, and a send an outcome. */
function likelyEvent(word: string, value: string | null, { states }: Reading): string {
  const isSend = value === null || outcomes.has(value.toLowerCase());
  const reading = value === null ? null : states.explain(value);
  const isCheck = reading?.ok === true && reading.value !== unavailable;
  const named: readonly (readonly [RegExp, string, boolean])[] = [
    [/ch(?:ec)?k|poll|sample/iu, 'check', isCheck],
    [/bat|volt|charge|power.?low/iu, 'low-battery', isSend],
    [/beat|alive|status|ping/iu, 'heartbeat', isSend],
    [/boot|start|power/iu, 'power-on', true],
    [/reset|crash|watchdog/iu, 'reset', true],
  ];
  const byName = named.find(([pattern, , fits]) => fits && pattern.test(word))?.[1];
  return byName ?? (isSend ? 'alert' : isCheck ? 'check' : 'reset');
}

function noReading(found: string): Problem {
  return {
    code: 'state-unknown',
    says: 'is not what a contact reads',
    found,
    expected: 'open or shut',
  };
}
