// NDJSON: one object a line. Which of its keys hold what is decided by the first object.
import { firstTooDeep } from '../../base/index.js';
import { mostLevels } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import { findColumns, isColumn } from './columns.js';
import { isBlankLine } from './delimited.js';
import type { LineTaker, LogParts } from './line-taker.js';
import { type FieldValue, type RowReader, rowReader } from './row-reader.js';

/** How to read the objects of one log. */
interface Keys {
  readonly read: RowReader;
  readonly first: string;
  readonly second: string | null;
}

type JsonRow = Readonly<Record<string, unknown>>;

export function ndjsonTaker(parts: LogParts): LineTaker {
  let keys: Keys | null = null;
  return {
    line(text, line) {
      if (isBlankLine(text)) return;
      const object = readObject(text, line, parts);
      if (object === null) return;
      const valueIn = (column: string): string | null => textAt(object, column);
      if (!parts.sensors.isChosen(valueIn)) return;
      keys ??= findKeys(parts, object, line);
      if (keys === null) return;
      parts.sensors.note(valueIn, line);
      parts.intake.rows += 1;
      const { first, second } = keys;
      keys.read({
        first: valueAt(object, first),
        second: second === null ? undefined : valueAt(object, second),
        line,
        column: (field) => columnOf(text, field === 0 ? first : second),
      });
    },
    end: () => undefined,
  };
}

function readObject(text: string, line: number, parts: LogParts): JsonRow | null {
  const deep = firstTooDeep(text, mostLevels);
  if (deep !== null) {
    parts.giveUp(rowTooDeep(text), line, deep + 1);
    return null;
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : '';
    const [, position] = /at position (\d+)/.exec(message) ?? [];
    const column = position === undefined ? 1 : Number(position) + 1;
    parts.giveUp(notJson(text), line, column);
    return null;
  }
  if (isRow(value)) return value;
  parts.giveUp(notJson(text), line, 1);
  return null;
}

/** What is wrong with a row that brackets go too deep in. */
export function rowTooDeep(found: string): Problem {
  return {
    code: 'row-too-deep',
    says: `this row is nested more than ${String(mostLevels)} levels deep`,
    found,
    hint: 'keep the time and the state of a row at its top level',
  };
}

function notJson(text: string): Problem {
  const array = text.trimStart().startsWith('[');
  return {
    code: 'json-row-unreadable',
    says: 'this row is not a JSON object',
    found: text,
    expected: 'one object per line, such as {"time": "2026-05-08T06:00:00Z", "state": "open"}',
    hint: array
      ? 'write each entry of the list on its own line, without the brackets and commas around it'
      : undefined,
  };
}

function isRow(value: unknown): value is JsonRow {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function findKeys(parts: LogParts, object: JsonRow, line: number): Keys | null {
  const columns = findColumns(Object.keys(object), parts.options);
  if (!columns.ok) {
    parts.giveUp(columns.problem, line, 1);
    return null;
  }
  const { value } = columns;
  const used = value.kind === 'edges' ? [value.time, value.state] : [value.start, value.end];
  parts.sensors.begin(Object.keys(object), used);
  const read = rowReader(value, parts);
  return value.kind === 'edges'
    ? { read, first: value.time, second: value.state }
    : { read, first: value.start, second: value.end };
}

/** A value that a time or a state could be; anything else is shown as its JSON in the complaint. */
function valueAt(object: JsonRow, key: string): FieldValue {
  const value = Object.hasOwn(object, key) ? object[key] : undefined;
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
    return value;
  }
  return value === null || value === undefined ? null : JSON.stringify(value);
}

/** What an object has at a key as text; null where it has no such key. */
function textAt(object: JsonRow, column: string): string | null {
  const key = Object.hasOwn(object, column)
    ? column
    : Object.keys(object).find((name) => isColumn(name, column));
  return key === undefined ? null : String(valueAt(object, key) ?? '');
}

function columnOf(text: string, key: string | null): number {
  if (key === null) return 1;
  const at = text.indexOf(JSON.stringify(key));
  return at < 0 ? 1 : at + 1;
}
