// Reads rows: finds the time and the state, or the start and the end, in a row's fields, whatever the format.
import { dayMs, shellWord } from '../../base/index.js';
import type { Problem } from '../text/problem.js';
import { isTimeOfDay, yearlessDate } from '../time/recognise.js';
import type { DurationUnit } from '../types.js';
import type { LogColumns } from './columns.js';
import type { TwoReadings } from './held-rows.js';
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
import { dateInName } from './row-dates.js';
import { readRowDuration, unitInName } from './row-duration.js';
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
  // An end that is a start and a length is worked out once the start is settled.
  const hasLengths = columns.end === null;
  intake.hasLengths = hasLengths;
  const take = ({ first, second, place }: KeptRow): void => {
    if (!hasLengths) takeOpening(intake, first, second, place);
    else if (typeof second !== 'number') return;
    else if (columns.hasEndFirst === true) takeOpening(intake, later(first, -second), first, place);
    else takeOpening(intake, first, later(first, second), place);
  };
  // With one date for both, an end before the start is on the next day.
  const second = columns.end ?? columns.duration;
  const unit = parts.options.durationUnit ?? unitInName(columns.duration ?? '');
  const sameDate = columns.startDate !== null && columns.startDate === columns.endDate;
  const read = (fields: RowFields): void => {
    if (intake.rows <= 1 && areFlags(fields.first, fields.second)) {
      const { line, column } = fields.at(0);
      parts.giveUp(flagsForTimes(columns.start, fields.first), line, column);
      return;
    }
    const first = cellOf(fields, 0, columns.start, parts);
    const hasNoEnd =
      columns.hasEndFirst !== true &&
      (second === null || isBlank(fields.second) || isNoEnd(fields.second));
    const written = hasNoEnd
      ? Number.POSITIVE_INFINITY
      : columns.end === null
        ? durationOf(fields, { unit, intake })
        : cellOf(fields, 1, columns.end, parts);
    if (first === null || written === null) return;
    const isNextDay = columns.end !== null && sameDate && isClock(fields.second);
    const end = isNextDay ? laterThan(first, written, times) : written;
    if (typeof first === 'number' && typeof end === 'number' && kept.isEmpty)
      take({ place: fields, first, second: end });
    else kept.keep(fields, { first, second: end, take });
  };
  return { read, end: () => endOf(kept, times) };
}

/** One says yes and the other no. */
function areFlags(one: FieldValue, other: FieldValue): boolean {
  return isFlag(one) && isFlag(other) && String(one) !== String(other);
}

function isFlag(value: FieldValue): boolean {
  return (
    value !== undefined && value !== null && /^(?:0|1|true|false|yes|no)$/iu.test(String(value))
  );
}

/** Columns named like the start and the end of openings that only say whether the door is open. */
function flagsForTimes(column: string, found: FieldValue): Problem {
  return {
    code: 'columns-unclear',
    says: `the column ${column} has no times`,
    found: String(found),
    expected: 'the start and the end of an opening',
    hint: 'if it says whether the door is open, read it as the state',
    tries: [`--state-column ${shellWord(column)}`],
  };
}

/** The instant `ms` later; one that is read in two ways stays so. */
function later(from: number | TwoReadings, ms: number): number | TwoReadings {
  return typeof from === 'number'
    ? from + ms
    : { earlierMs: from.earlierMs + ms, laterMs: from.laterMs + ms };
}

function durationOf(
  fields: RowFields,
  { unit, intake }: { readonly unit: DurationUnit | null; readonly intake: Intake },
): number | null {
  const text = String(fields.second);
  const read = readRowDuration(text, unit);
  if (read.ok) return read.value;
  const { problem } = read;
  const at = fields.at(1);
  complain(intake, { ...problem, says: `this ${problem.says}` }, at, {
    repair: leftOut,
    mayHide: true,
  });
  return null;
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

function cellOf(
  fields: RowFields,
  field: 0 | 1,
  column: string,
  { intake, times, dates, options }: LogParts,
): KeptCell | null {
  const written = field === 0 ? fields.first : fields.second;
  const date = field === 0 ? fields.firstDate : fields.secondDate;
  const value = typeof written === 'string' ? dates.whole(written, dateText(date), field) : written;
  const atMs =
    typeof value === 'string'
      ? times.read(value)
      : typeof value === 'number'
        ? times.readNumber(value)
        : Number.NaN;
  if (!Number.isNaN(atMs)) return atMs;
  const at = fields.at(field);
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
  const { problem: reason } = isClock(value)
    ? noDate(decoded.problem, options.file)
    : typeof value === 'string' && yearlessDate(value) !== null
      ? noYear(decoded.problem, options.file)
      : decoded;
  const problem: Problem = { ...reason, says: `this ${reason.says}` };
  const repair = only === undefined ? { repair: leftOut, mayHide: true } : skippedRepair;
  return complain(intake, problem, at, repair) ? (only ?? null) : null;
}

function dateText(date: FieldValue): string | undefined {
  return date === undefined ? undefined : String(date ?? '');
}

/** A time of day whose date is in no column that is known. */
function noDate(problem: Problem, file: string): { readonly problem: Problem } {
  const date = dateInName(file);
  const hint = `if the date is in another column, name both: --date-column and --time-column; if it is in none, give the date of the first row, as in --date ${date ?? '2026-05-08'}`;
  const tries = date === null ? undefined : [`--date ${date}`];
  return { problem: { ...problem, says: 'is a time without a date', hint, tries } };
}

/** A date whose year is nowhere. */
function noYear(problem: Problem, file: string): { readonly problem: Problem } {
  const date = dateInName(file);
  const hint = `give the year by the date of the first row, as in --date ${date ?? '2026-05-08'}`;
  const tries = date === null ? undefined : [`--date ${date}`];
  return { problem: { ...problem, says: 'is a date without a year', hint, tries } };
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
  const at = fields.at(1);
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
