// Reads rows: finds the time and the state, or the start and the end, in a row's fields, whatever the format.
import type { Problem } from '../text/problem.js';
import type { LogColumns } from './columns.js';
import { complain, type Intake, type RowPlace, takeEdge, takeOpening } from './intake.js';
import type { LogParts } from './line-taker.js';
import { epochNumber, type LogTimes } from './log-time.js';
import type { StateWords } from './state-words.js';

/** The value of a field: text, or what JSON gave. */
export type FieldValue = string | number | boolean | null | undefined;

/** The two fields of a row that matter, and where each begins. */
export interface RowFields extends RowPlace {
  readonly second: FieldValue;
}

export type RowReader = (fields: RowFields) => void;

/** A reader of rows with these columns. */
export function rowReader(columns: LogColumns, parts: LogParts): RowReader {
  const { intake, sensors } = parts;
  intake.kind = columns.kind;
  if (columns.kind === 'edges') {
    const states = parts.statesOf(columns.state);
    return (fields) => {
      const atMs = timeOf(fields, 0, columns.time, parts);
      const state = stateOf(fields, columns.state, { intake, states });
      if (state !== null) sensors.state(state);
      if (atMs !== null && state !== null) takeEdge(intake, atMs, state, fields);
    };
  }
  return (fields) => {
    const startMs = timeOf(fields, 0, columns.start, parts);
    const endMs =
      columns.end === null || isBlank(fields.second)
        ? Number.POSITIVE_INFINITY
        : timeOf(fields, 1, columns.end, parts);
    if (startMs !== null && endMs !== null) takeOpening(intake, startMs, endMs, fields);
  };
}

function isBlank(value: FieldValue): boolean {
  return value === null || value === undefined || value === '';
}

const leftOut = 'the row is left out';

function timeOf(
  fields: RowFields,
  field: 0 | 1,
  column: string,
  { intake, times }: { readonly intake: Intake; readonly times: LogTimes },
): number | null {
  const value = field === 0 ? fields.first : fields.second;
  const atMs =
    typeof value === 'string'
      ? times.read(value)
      : typeof value === 'number'
        ? epochNumber(value)
        : Number.NaN;
  if (!Number.isNaN(atMs)) return atMs;
  const at = { line: fields.line, column: fields.column(field) };
  if (isBlank(value)) {
    complain(intake, missingField(column), at, leftOut);
    return null;
  }
  const decoded = times.explain(String(value));
  if (decoded.ok) return decoded.value;
  const problem: Problem = { ...decoded.problem, says: `this ${decoded.problem.says}` };
  const readings = times.readings(String(value));
  // Of a doubled hour, the reading that does not go back.
  const reading = readings.find((candidate) => candidate >= intake.latestMs) ?? readings.at(-1);
  if (reading === undefined) {
    complain(intake, problem, at, leftOut);
    return null;
  }
  const first =
    reading === readings[0] ? 'the first of the two is used' : 'the second of the two is used';
  const which = readings.length === 1 ? 'read as if the clocks had not gone forward' : first;
  return complain(intake, problem, at, which) ? reading : null;
}

function missingField(column: string): Problem {
  return { code: 'field-missing', says: `this row has no ${column}` };
}

function stateOf(
  fields: RowFields,
  column: string,
  { intake, states }: { readonly intake: Intake; readonly states: StateWords },
): number | null {
  const value = fields.second;
  const state = typeof value === 'string' ? states.read(value) : -1;
  if (state >= 0) return state;
  const at = { line: fields.line, column: fields.column(1) };
  if (isBlank(value)) {
    complain(intake, missingField(column), at, leftOut);
    return null;
  }
  const decoded = states.explain(String(value));
  if (decoded.ok) return decoded.value;
  const { problem } = decoded;
  const hint = problem.hint ?? 'if it means open or shut, add it with --open-word or --shut-word';
  complain(intake, { ...problem, says: `this ${problem.says}`, hint }, at, leftOut);
  return null;
}
