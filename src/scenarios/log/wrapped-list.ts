// A list of rows inside a JSON object, as programs export a log with facts on the device around it.
import { isRecord } from '../../base/index.js';
import { mostListColumns, mostWrappings } from '../../model/index.js';

/**
 * The text with all but that list blanked, so that lines and columns stay as they are.
 * @returns null: the text is not an object with one list of objects, or it is a scenario or a watch file.
 */
export function wrappedList(text: string): string | null {
  let root: unknown;
  try {
    root = JSON.parse(text.replace(/^\ufeff/u, ''));
  } catch {
    return null;
  }
  if (
    !isRecord(root) ||
    ['door', 'length', 'watch', 'judge'].some((key) => Object.hasOwn(root, key))
  )
    return null;
  const [key, other] = listsIn(root, mostWrappings);
  if (key === undefined || other !== undefined) return null;
  const start = new RegExp(`${escaped(JSON.stringify(key))}\\s*:\\s*\\[`, 'u').exec(text);
  if (start === null) return null;
  const from = start.index + start[0].length - 1;
  const to = endOfList(text, from);
  return `${blanked(text.slice(0, from))}${text.slice(from, to)}${blanked(text.slice(to))}`;
}

/** An object, or a list in place of one. */
function isRowLike(value: unknown): boolean {
  return isRecord(value) || Array.isArray(value);
}

/**
 * An object that holds a log in another way, as a list of rows with a line each: a list for each column, or a state for each
 * time. Null: it does not. @param isTime whether a key may be a time.
 */
export function turnedList(text: string, isTime: (key: string) => boolean): string | null {
  let root: unknown;
  try {
    root = JSON.parse(text.replace(/^\ufeff/u, ''));
  } catch {
    return null;
  }
  if (!isRecord(root)) return null;
  const entries = Object.entries(root);
  if (entries.length < 2) return null;
  if (entries.every(([key, value]) => isTime(key) && !isRowLike(value))) {
    return listOf(entries.map(([time, state]) => ({ time, state })));
  }
  const lists = entries.filter((entry): entry is [string, unknown[]] => Array.isArray(entry[1]));
  const length = lists[0]?.[1].length ?? 0;
  const areAlike = lists.every(([, list]) => list.length === length && !list.some(isRowLike));
  if (lists.length < 2 || lists.length > mostListColumns || length < 2 || !areAlike) return null;
  return listOf(
    Array.from({ length }, (_, row) =>
      Object.fromEntries(lists.map(([key, list]) => [key, list[row]])),
    ),
  );
}

function listOf(rows: readonly unknown[]): string {
  return `[${rows.map((row) => JSON.stringify(row)).join(',\n')}]`;
}

/** The keys of lists of objects. */
function listsIn(object: Readonly<Record<string, unknown>>, depth: number): readonly string[] {
  return Object.entries(object).flatMap(([key, value]) => {
    if (Array.isArray(value)) return value.some(isRowLike) ? [key] : [];
    return depth > 1 && isRecord(value) ? listsIn(value, depth - 1) : [];
  });
}

function endOfList(text: string, from: number): number {
  let depth = 0;
  for (const { 0: mark, index } of text.slice(from).matchAll(/"(?:[^"\\]|\\.)*"|[[\]]/gu)) {
    if (mark === '[') depth += 1;
    else if (mark === ']') depth -= 1;
    if (depth === 0) return from + index + 1;
  }
  return text.length;
}

function blanked(text: string): string {
  return text.replaceAll(/[^\n]/gu, ' ');
}

function escaped(text: string): string {
  return text.replaceAll(/[$()*+.?[\\\]^{|}]/gu, '\\$&');
}
