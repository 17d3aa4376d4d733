// Several sensors in one log: which rows were chosen, and whether the rest are all of one sensor. Only the different
// values of a few columns are kept, so that a log of a million rows is still read as a stream.

import { shellWord } from '../../base/index.js';
import { mostSensors } from '../../model/index.js';
import { type Problem, shortened } from '../text/problem.js';
import { didYouMean } from '../text/suggest.js';
import type { LogCondition } from '../types.js';
import { isColumn, plainName } from './columns.js';
import { isWordForState } from './state-words.js';

/** Names of columns that tell sensors apart, the likeliest first. */
const sensorNames: readonly string[] = [
  'sensor',
  'door',
  'entity_id',
  'entity',
  'device_id',
  'device',
  'channel',
  'topic',
  'location',
  'room',
  'zone',
  'name',
  'source',
  'id',
];

/** Names that serve for other things as well: the number of a row, what happened, who reported it. */
const looseNames: ReadonlySet<string> = new Set(['name', 'source', 'id']);

/** Up to here even a value for each row may be a sensor for each row. */
const fewValues = 10;

/** How many values an error lists. */
const mostListed = 10;

/** The value of a row in a column of the log; null where it has none. */
export type ValueIn = (column: string) => string | null;

/** What the rows of one log say of their sensors. */
export interface Sensors {
  /** Columns that conditions name, as the conditions name them. */
  readonly wanted: readonly string[];
  /** Tells the columns of the log, and which of them hold its times and states. */
  begin(header: readonly string[], used: readonly (string | null)[]): void;
  /** Whether a row is one that the conditions choose. */
  isChosen(valueIn: ValueIn): boolean;
  /** Takes note of a chosen row. */
  note(valueIn: ValueIn, line: number): void;
  /** The state of the row noted last. */
  state(state: number): void;
  /** What is wrong, once all rows are in: a condition that no row meets, or rows of several sensors. */
  fault(): SensorFault | null;
}

export interface SensorFault {
  readonly problem: Problem;
  /** The first row that shows it. */
  readonly line: number | undefined;
}

/** A column that conditions name. */
interface Wanted {
  readonly values: ReadonlySet<string>;
  /** All that some row had there. */
  readonly seen: Set<string>;
}

/** A column that may tell sensors apart. */
interface Candidate {
  readonly column: string;
  readonly word: string;
  /** The last state with each value; −1 before there is one. */
  readonly values: Map<string, number>;
  /** Rows with a value. */
  rows: number;
  /** Of the first row whose value is not that of the rows above. */
  secondLine: number | undefined;
  current: string;
  /** Rows that repeat the last state with the same value. */
  ownRepeats: number;
}

export function openSensors(conditions: readonly LogCondition[]): Sensors {
  const wanted = wantedColumns(conditions);
  let candidates: readonly Candidate[] = [];
  let lastState = -1;
  let repeats = 0;
  return {
    wanted: [...wanted.keys()],
    begin(header, used) {
      const free = header.filter(
        (column) =>
          !used.includes(column) && ![...wanted.keys()].some((name) => isColumn(column, name)),
      );
      candidates = candidatesAmong(free);
    },
    isChosen(valueIn) {
      let chosen = true;
      for (const [column, { values, seen }] of wanted) {
        const value = valueIn(column)?.trim();
        if (value === undefined) {
          chosen = false;
          continue;
        }
        if (seen.size <= mostSensors) seen.add(value);
        if (!values.has(value)) chosen = false;
      }
      return chosen;
    },
    note(valueIn, line) {
      for (const candidate of candidates) noteValue(candidate, valueIn(candidate.column), line);
    },
    state(state) {
      if (state === lastState) repeats += 1;
      lastState = state;
      for (const candidate of candidates) noteState(candidate, state);
    },
    fault: () => unmetCondition(wanted) ?? mixedSensors(candidates, repeats),
  };
}

function wantedColumns(conditions: readonly LogCondition[]): ReadonlyMap<string, Wanted> {
  const values = new Map<string, string[]>();
  for (const { column, value } of conditions) {
    const key = [...values.keys()].find((name) => isColumn(name, column)) ?? column;
    values.set(key, [...(values.get(key) ?? []), value.trim()]);
  }
  return new Map(
    Array.from(values, ([column, of]) => [column, { values: new Set(of), seen: new Set() }]),
  );
}

function candidatesAmong(columns: readonly string[]): readonly Candidate[] {
  return sensorNames.flatMap((word) => {
    const column = columns.find((name) => plainName(name.split('.').at(-1) ?? '') === word);
    if (column === undefined) return [];
    const none = { rows: 0, secondLine: undefined, current: '', ownRepeats: 0 };
    return [{ column, word, values: new Map<string, number>(), ...none }];
  });
}

function noteValue(candidate: Candidate, text: string | null, line: number): void {
  const value = text === null ? '' : text.trim();
  candidate.current = value;
  if (value === '') return;
  candidate.rows += 1;
  const { values } = candidate;
  if (values.has(value) || values.size > mostSensors) return;
  if (values.size === 1) candidate.secondLine = line;
  values.set(value, -1);
}

function noteState(candidate: Candidate, state: number): void {
  const { current, values } = candidate;
  const last = values.get(current);
  if (last === undefined) return;
  if (last === state) candidate.ownRepeats += 1;
  else values.set(current, state);
}

function unmetCondition(wanted: ReadonlyMap<string, Wanted>): SensorFault | null {
  for (const [column, { values, seen }] of wanted) {
    const missing = [...values].find((value) => !seen.has(value));
    if (missing === undefined || seen.size > mostSensors) continue;
    if (seen.size === 0) {
      const says = `no row has a column ${column}`;
      return { problem: { code: 'column-unknown', says }, line: undefined };
    }
    const says = `no row has ${shortened(missing)} in the column ${column}`;
    const expected = `one of ${listed([...seen])}`;
    const hint = didYouMean(missing, [...seen]);
    return { problem: { code: 'where-matches-nothing', says, expected, hint }, line: undefined };
  }
  return null;
}

function mixedSensors(candidates: readonly Candidate[], repeats: number): SensorFault | null {
  const mixed = candidates
    .filter((candidate) => tellsSensorsApart(candidate, repeats))
    .sort((a, b) => b.values.size - a.values.size);
  const [most] = mixed;
  if (most === undefined) return null;
  const { column, values, secondLine } = most;
  return {
    problem: {
      code: 'several-sensors',
      says: `the rows are of several sensors: the column ${column} has ${listed([...values.keys()])}`,
      expected: 'the rows of one door',
      hint: 'choose one; if several are of the same door, repeat --where for each',
      tries: [...values.keys()].map((value) => `--where ${shellWord(`${column}=${value}`)}`),
    },
    line: secondLine,
  };
}

/** A column that varies may have other reasons to: see each line. */
function tellsSensorsApart(candidate: Candidate, repeats: number): boolean {
  const { word, values, rows, ownRepeats } = candidate;
  const count = values.size;
  if (count < 2 || count > mostSensors) return false;
  // One for nearly every row: the number of the row, of a message, of an event.
  if (count > fewValues && count * 2 > rows) return false;
  if (word === 'id' && count === rows) return false;
  const texts = [...values.keys()];
  // The state once more, in words.
  if (texts.every(isWordForState)) return false;
  // Summer and winter time.
  if (word === 'zone' && texts.every(isTimeZone)) return false;
  // The rows are one door's, which opens and shuts by turns, and taken value by value they are not: who, or what, reported it.
  return !(looseNames.has(word) && repeats === 0 && ownRepeats > 0);
}

/** Abbreviations of zones and offsets; common practice, no source. */
function isTimeZone(text: string): boolean {
  return /^(?:UTC|GMT|Z|WET|WEST|CET|CEST|EET|EEST|MSK|BST|IST|[ECMP][SD]T|A[EC][SD]T|AWST|NZ[SD]T|JST|(?:UTC|GMT)?[+-]\d{1,2}(?::?\d{2})?)$/u.test(
    text,
  );
}

/** The first values, and how many more there are. */
function listed(values: readonly string[]): string {
  const shown = values.slice(0, mostListed).map(shortened).join(', ');
  const rest = values.length - mostListed;
  return rest > 0 ? `${shown} and ${String(rest)} more` : shown;
}
