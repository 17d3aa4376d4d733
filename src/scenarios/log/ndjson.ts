// JSON: one object a line, or a list of objects. Which of their keys hold what is decided by the first object; a key inside
// another is named by its path with dots, such as `sensor.contact`.
import { firstTooDeep, isRecord } from '../../base/index.js';
import { mostColumns, mostLevels } from '../../model/index.js';
import { faultOffset, isUnfinished } from '../text/json-fault.js';
import type { Problem } from '../text/problem.js';
import { isBlankLine } from './blank-line.js';
import { findColumns, isColumn, usedColumns } from './columns.js';
import { guessed } from './guess.js';
import type { LineTaker, LogParts } from './line-taker.js';
import { linesBefore, placeIn, type TextPlace } from './record.js';
import { type FieldValue, type RowReader, rowReader } from './row-reader.js';

/** How to read the objects of one log. */
interface Keys {
  readonly reader: RowReader;
  readonly first: string;
  readonly second: string | null;
  readonly firstDate: string | null;
  readonly secondDate: string | null;
}

export type JsonRow = Readonly<Record<string, unknown>>;

/** Where an object begins in the file. */
export interface ObjectPlace {
  readonly line: number;
  /** Of its first character. */
  readonly column: number;
  /** Where a value begins, if the text was not written as an object. */
  readonly columnOf?: (path: string | null) => number;
}

/** Takes objects as text, wherever they stand. */
export interface ObjectTaker {
  take(text: string, place: ObjectPlace): void;
  end(): void;
}

/** One object a line. */
export function ndjsonTaker(parts: LogParts): LineTaker {
  const objects = objectTaker(parts);
  return {
    line(text, line) {
      if (!isBlankLine(text)) objects.take(text, { line, column: 1 });
    },
    end: () => {
      objects.end();
    },
  };
}

export function objectTaker(parts: LogParts): ObjectTaker {
  let keys: Keys | null = null;
  let isLost = false;
  return {
    take(text, place) {
      if (isLost) return;
      const object = readObject(text, place, parts);
      if (object === null) {
        isLost = true;
        return;
      }
      const valueIn = (column: string): string | null => textAt(object, column);
      if (!parts.sensors.isChosen(valueIn)) return;
      keys ??= findKeys(parts, object, place);
      if (keys === null) {
        isLost = true;
        return;
      }
      parts.sensors.note(valueIn, place.line);
      parts.intake.rows += 1;
      const { first, second, firstDate, secondDate } = keys;
      keys.reader.read({
        first: valueAt(object, first),
        second: second === null ? undefined : valueAt(object, second),
        firstDate: firstDate === null ? undefined : valueAt(object, firstDate),
        secondDate: secondDate === null ? undefined : valueAt(object, secondDate),
        line: place.line,
        lastLine: place.line + linesBefore(text, text.length),
        at: (field) => valuePlace(text, field === 0 ? first : second, place),
      });
    },
    end() {
      const doubt = keys?.reader.end() ?? null;
      if (doubt !== null) parts.giveUp(doubt.problem, doubt.line, doubt.column);
    },
  };
}

function readObject(text: string, place: ObjectPlace, parts: LogParts): JsonRow | null {
  const read = objectOf(text, place);
  if (read.ok) return read.row;
  parts.giveUp(read.problem, read.line, read.column);
  return null;
}

type ReadObject =
  | { readonly ok: true; readonly row: JsonRow }
  | ({ readonly ok: false; readonly problem: Problem } & TextPlace);

/** An object of text, or what is wrong with it. */
export function objectOf(text: string, { line, column }: ObjectPlace): ReadObject {
  const deep = firstTooDeep(text, mostLevels);
  if (deep !== null) {
    return { ok: false, problem: rowTooDeep(text), ...placeIn(text, deep, line, column) };
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : '';
    return {
      ok: false,
      problem: isUnfinished(text)
        ? { ...notJson(text), says: 'this row has no end' }
        : notJson(text),
      ...placeIn(text, faultOffset(text, message), line, column),
    };
  }
  if (isRecord(value)) {
    const twice = keyTwice(text, Object.keys(value).length);
    if (twice === null) return { ok: true, row: unpacked(value) };
    return { ok: false, problem: hasTwice(twice.key), ...placeIn(text, twice.at, line, column) };
  }
  return { ok: false, problem: notJson(text), line, column };
}

/** The first key of an object's own that it has twice, of which a parser would take the last; null: it has each once. */
function keyTwice(
  text: string,
  keys: number,
): { readonly key: string; readonly at: number } | null {
  const marks = text.match(/"\s*:/gu)?.length ?? 0;
  // As many as keys: none is there twice. More may also be those of objects inside, or of texts.
  if (marks <= keys) return null;
  const seen = new Set<string>();
  let depth = 0;
  for (const { 0: mark, 1: key, index } of text.matchAll(
    /("(?:[^"\\]|\\.)*")(?=\s*:)|"(?:[^"\\]|\\.)*"|[{}[\]]/gu,
  )) {
    if (mark === '{' || mark === '[') depth += 1;
    else if (mark === '}' || mark === ']') depth -= 1;
    else if (key !== undefined && depth === 1) {
      if (seen.has(key)) return { key, at: index };
      seen.add(key);
    }
  }
  return null;
}

function hasTwice(key: string): Problem {
  return {
    code: 'duplicate-key',
    says: `this row has the key ${key} twice`,
    found: key,
    hint: 'leave out one of them',
  };
}

/** A value that is the text of an object is taken as that object, as programs log the payload of a message. */
function unpacked(row: JsonRow): JsonRow {
  const texts = Object.entries(row).filter(
    ([, value]) => typeof value === 'string' && /^\s*\{/u.test(value),
  );
  if (texts.length === 0) return row;
  const inner = texts.flatMap(([key, text]) => {
    try {
      const value: unknown = JSON.parse(String(text));
      return isRecord(value) ? [[key, value] as const] : [];
    } catch {
      return [];
    }
  });
  return { ...row, ...Object.fromEntries(inner) };
}

/** What is wrong with a row that brackets go too deep in. */
function rowTooDeep(found: string): Problem {
  return {
    code: 'row-too-deep',
    says: `this row is nested more than ${String(mostLevels)} levels deep`,
    found,
    hint: 'keep the time and the state of a row at its top level',
  };
}

export function notJson(text: string): Problem {
  return {
    code: 'json-row-unreadable',
    says: 'this row is not a JSON object',
    found: text,
    expected:
      'one object per line, such as {"time": "2026-05-08T06:00:00Z", "state": "open"}, or one list of these objects',
  };
}

function findKeys(parts: LogParts, object: JsonRow, { line, column }: ObjectPlace): Keys | null {
  const header = pathsOf(object);
  const columns = findColumns(header, parts.options);
  if (!columns.ok) {
    const values = header.map((path) => String(valueAt(object, path) ?? ''));
    parts.giveUp(guessed(columns.problem, header, { values, parts }), line, column);
    return null;
  }
  const used = usedColumns(columns.value);
  parts.sensors.begin(header, used);
  const [first, second, firstDate, secondDate] = used;
  return { reader: rowReader(columns.value, parts), first, second, firstDate, secondDate };
}

/** The path of each value of an object that is not an object itself. */
export function pathsOf(object: JsonRow): readonly string[] {
  const paths: string[] = [];
  const walk = (value: JsonRow, start: string): void => {
    for (const [key, inner] of Object.entries(value)) {
      if (paths.length >= mostColumns) return;
      const path = `${start}${key}`;
      if (isRecord(inner) && Object.keys(inner).length > 0) walk(inner, `${path}.`);
      else paths.push(path);
    }
  };
  walk(object, '');
  return paths;
}

/** A value that a time or a state could be; anything else is shown as its JSON in the complaint. */
export function valueAt(object: JsonRow, path: string): FieldValue {
  const value = Object.hasOwn(object, path) ? object[path] : insideAt(object, path);
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
    return value;
  }
  return value === null || value === undefined ? value : JSON.stringify(value);
}

function insideAt(object: JsonRow, path: string): unknown {
  let value: unknown = object;
  for (const key of path.split('.')) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = Reflect.get(value, key);
  }
  return value;
}

/** What an object has at a path as text; null where it has no such key. */
function textAt(object: JsonRow, column: string): string | null {
  const value = valueAt(object, column);
  if (value !== undefined) return value === null ? '' : String(value);
  const key = pathsOf(object).find((name) => isColumn(name, column));
  return key === undefined ? null : String(valueAt(object, key) ?? '');
}

/** Where a value of an object begins, by its key; where the object begins if the key is not in it. */
export function valuePlace(text: string, path: string | null, place: ObjectPlace): TextPlace {
  const { line, column, columnOf } = place;
  if (columnOf !== undefined) return { line, column: columnOf(path) };
  return placeIn(text, columnIn(text, path) - 1, line, column);
}

function columnIn(text: string, path: string | null): number {
  if (path === null) return 1;
  const whole = text.indexOf(JSON.stringify(path));
  const at = whole < 0 ? text.indexOf(JSON.stringify(path.split('.').at(-1) ?? '')) : whole;
  return at < 0 ? 1 : at + 1;
}
