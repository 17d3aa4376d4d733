// Reads rows: finds the time and the state, or the start and the end, in a row's fields, whatever the format.
import type { Problem } from '../text/problem.js';
import { isTimeOfDay } from '../time/recognise.js';
import type { LogColumns } from './columns.js';
import {
  complain,
  type Intake,
  type RowPlace,
  skippedRepair,
  takeEdge,
  takeOpening,
} from './intake.js';
import {
  type KeptCell,
  type KeptRow,
  type KeptRows,
  openKeptRows,
  type RowDoubt,
} from './kept-rows.js';
import type { LogParts } from './line-taker.js';
import type { LogTimes } from './log-time.js';
import { type StateWords, unavailable } from './state-words.js';

/** The value of a field: text, or what JSON gave. */
export type FieldValue = string | number | boolean | null | undefined;

/** The fields of a row that matter, and where each begins. */
export interface RowFields extends RowPlace {
  readonly second: FieldValue;
  /** The dates that stand in columns of their own; undefined: there is no such column. */
  readonly firstDate: FieldValue;
  readonly secondDate: FieldValue;
}

export interface RowReader {
  readonly read: (fields: RowFields) => void;
  /** After the last row. @returns what is in doubt still; null: nothing. */
  readonly end: () => RowDoubt | null;
}

/** A reader of rows with these columns. */
export function rowReader(columns: LogColumns, parts: LogParts): RowReader {
  const { intake, sensors, times } = parts;
  intake.kind = columns.kind;
  const kept = openKeptRows(parts);
  if (columns.kind === 'edges') {
    const states = parts.statesOf(columns.state);
    const take = (row: KeptRow): void => {
      if (typeof row.second === 'number') takeEdge(intake, row.first, row.second, row.place);
    };
    const read = (fields: RowFields): void => {
      const first = cellOf(fields, 0, columns.time, parts);
      const state = stateOf(fields, columns.state, { intake, states });
      if (state !== null && state !== unavailable) sensors.state(state);
      if (first === null || state === null) return;
      if (typeof first === 'number' && kept.isEmpty) takeEdge(intake, first, state, fields);
      else kept.keep(fields, { first, second: state, take });
    };
    return { read, end: () => endOf(kept, times) };
  }
  const take = (row: KeptRow): void => {
    takeOpening(intake, row.first, row.second, row.place);
  };
  // With one date for both, an end before the start is on the next day.
  const sameDate = columns.startDate !== null && columns.startDate === columns.endDate;
  const read = (fields: RowFields): void => {
    const first = cellOf(fields, 0, columns.start, parts);
    const written =
      columns.end === null || isBlank(fields.second) || isNoEnd(fields.second)
        ? Number.POSITIVE_INFINITY
        : cellOf(fields, 1, columns.end, parts);
    if (first === null || written === null) return;
    const second = sameDate && isClock(fields.second) ? laterThan(first, written, times) : written;
    if (typeof first === 'number' && typeof second === 'number' && kept.isEmpty)
      takeOpening(intake, first, second, fields);
    else kept.keep(fields, { first, second, take });
  };
  return { read, end: () => endOf(kept, times) };
}

function isClock(value: FieldValue): boolean {
  return typeof value === 'string' && isTimeOfDay(value);
}

function laterThan(start: KeptCell, end: KeptCell, times: LogTimes): KeptCell {
  if (typeof end === 'number') {
    const startMs = typeof start === 'number' ? start : 'laterMs' in start ? start.earlierMs : end;
    return end < startMs ? times.nextDay(end) : end;
  }
  if (typeof start === 'number' || 'laterMs' in start || 'laterMs' in end) return end;
  if (end.dayFirstMs >= start.dayFirstMs) return end;
  const { dayFirstMs, monthFirstMs } = end;
  return { ...end, dayFirstMs: dayFirstMs + dayMs, monthFirstMs: monthFirstMs + dayMs };
}

const dayMs = 86_400_000;

function endOf(kept: KeptRows, times: LogTimes): RowDoubt | null {
  if (times.dayFirst === null) return kept.doubt();
  kept.flush();
  return null;
}

function isBlank(value: FieldValue): boolean {
  return value === null || value === undefined || value === '';
}

/** How programs write that an opening has no end yet. */
function isNoEnd(value: FieldValue): boolean {
  return typeof value === 'string' && /^(?:none|null|nan|nat|-)?$/iu.test(value.trim());
}

const leftOut = 'the row is left out';

/** The text of a time, with the date from a column of its own where the time has none. */
function wholeTime(value: FieldValue, date: FieldValue): FieldValue {
  if (date === undefined || date === null || typeof value !== 'string') return value;
  return isTimeOfDay(value) ? `${String(date).trim()} ${value.trim()}` : value;
}

function cellOf(
  fields: RowFields,
  field: 0 | 1,
  column: string,
  { intake, times }: { readonly intake: Intake; readonly times: LogTimes },
): KeptCell | null {
  const written = field === 0 ? fields.first : fields.second;
  const date = field === 0 ? fields.firstDate : fields.secondDate;
  const value = date === undefined ? written : wholeTime(written, date);
  const atMs =
    typeof value === 'string'
      ? times.read(value)
      : typeof value === 'number'
        ? times.readNumber(value)
        : Number.NaN;
  if (!Number.isNaN(atMs)) return atMs;
  const at = { line: fields.line, column: fields.column(field) };
  if (isBlank(value)) {
    complain(intake, missingField(column), at, { repair: leftOut, mayHide: true });
    return null;
  }
  const text = String(value);
  const doubt = times.doubtOf(text);
  if (doubt !== null) return doubt;
  const decoded = times.explain(text);
  if (decoded.ok) return decoded.value;
  const readings = times.readings(text);
  const [only, other] = readings;
  if (only !== undefined && other !== undefined) return { earlierMs: only, laterMs: other };
  const problem: Problem = { ...decoded.problem, says: `this ${decoded.problem.says}` };
  const repair = only === undefined ? { repair: leftOut, mayHide: true } : skippedRepair;
  return complain(intake, problem, at, repair) ? (only ?? null) : null;
}

function missingField(column: string): Problem {
  const hint = 'if this line is not a row of the log, --lenient leaves it out';
  return { code: 'field-missing', says: `this row has no ${column}`, hint };
}

function stateOf(
  fields: RowFields,
  column: string,
  { intake, states }: { readonly intake: Intake; readonly states: StateWords },
): number | null {
  const value = fields.second;
  const state = typeof value === 'string' ? states.read(value) : value === null ? unavailable : -1;
  if (state >= 0) return state;
  const at = { line: fields.line, column: fields.column(1) };
  if (value === undefined || value === null) {
    complain(intake, missingField(column), at, { repair: leftOut, mayHide: true });
    return null;
  }
  const text = String(value);
  const decoded = states.explain(text);
  if (decoded.ok) return decoded.value;
  const { problem } = decoded;
  // Of a word that many rows have, the first one is enough; a repair is listed for each row.
  if (!states.isNew(text) && !intake.lenient) return null;
  complain(intake, { ...problem, says: `this ${problem.says}` }, at, {
    repair: leftOut,
    mayHide: true,
  });
  return null;
}
