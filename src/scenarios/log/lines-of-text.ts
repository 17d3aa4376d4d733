// Lines that are neither a table nor JSON: names and values with an equals sign between them, and a time with words behind it.
import { isBlankLine } from './blank-line.js';
import type { LineTaker, LogParts } from './line-taker.js';
import type { LogTimes } from './log-time.js';
import { objectTaker } from './ndjson.js';

/** A time takes up at most as many words: `Fri 8 May 2026 08:01:00 PM`. */
const mostTimeWords = 7;

/** The time at the start of a line, perhaps in brackets, and the words behind it; null: it begins with no time. */
export function leadingTime(
  text: string,
  times: LogTimes,
): { readonly time: string; readonly rest: string } | null {
  const line = text.trim();
  const close = line.startsWith('[') ? line.indexOf(']') : -1;
  const isTime = (part: string): boolean =>
    part.length > 5 && (!Number.isNaN(times.read(part)) || times.doubtOf(part) !== null);
  if (close > 0) {
    const time = line.slice(1, close).trim();
    return isTime(time) ? { time, rest: line.slice(close + 1).trim() } : null;
  }
  const words = [...text.matchAll(/\S+/gu)].slice(0, mostTimeWords);
  for (const { 0: word, index } of words.toReversed()) {
    const end = index + word.length;
    const time = text.slice(0, end).trim();
    if (isTime(time)) return { time, rest: text.slice(end).trim() };
  }
  return null;
}

interface Pair {
  readonly name: string;
  readonly value: string;
  readonly column: number;
}

/** The names and values of a line, with the time before them as `time`; null: it has none. */
function pairsIn(text: string, times: LogTimes): readonly Pair[] | null {
  const found = [
    ...text.matchAll(/(?<![\w.-])([\p{L}_][\w.-]{0,60})=("(?:[^"\\]|\\.)*"|[^\s,;]*)/gu),
  ];
  const [first] = found;
  if (first === undefined) return null;
  const before = leadingTime(text.slice(0, first.index), times);
  if (found.length < 2 && before === null) return null;
  const pairs = found.map(({ 1: name = '', 2: value = '', index }) => ({
    name,
    value: value.replaceAll(/^"|"$/gu, '').replaceAll('\\"', '"'),
    column: index + 1,
  }));
  return before === null ? pairs : [{ name: 'time', value: before.time, column: 1 }, ...pairs];
}

/** What takes such lines; null: the first line is not one. */
export function pairsTaker(parts: LogParts, first: string): LineTaker | null {
  if (pairsIn(first, parts.times) === null) return null;
  const objects = objectTaker(parts);
  return {
    line(text, line) {
      if (isBlankLine(text)) return;
      const pairs = pairsIn(text, parts.times) ?? [];
      const row = Object.fromEntries(pairs.map(({ name, value }) => [name, value]));
      const columnOf = (name: string | null): number =>
        pairs.find((pair) => pair.name === name)?.column ?? 1;
      objects.take(JSON.stringify(row), { line, column: 1, columnOf });
    },
    end: () => {
      objects.end();
    },
  };
}
