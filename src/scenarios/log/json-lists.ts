// JSON whose rows are lists: `[["time", "state"], …]`, or one such list a line. They become the rows of a table; without a first
// row of names, the columns get names by what they hold.

import { mostLineCharacters } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import { delimitedTaker, namesFor } from './delimited.js';
import { type ChunkTaker, listWithoutEnd } from './json-array.js';
import type { LogParts } from './line-taker.js';
import { notJson } from './ndjson.js';
import type { TextPlace } from './record.js';

/** Whether a text begins with a list in place of an object. */
export function isListOfLists(text: string): boolean {
  return /^[\ufeff\s]*\[\s*(?:\[|"|-?\d)/u.test(text);
}

export function listsTaker(parts: LogParts): ChunkTaker {
  const rows = delimitedTaker(parts, ',');
  let [line, rowLine, depth] = [1, 1, 0];
  let [inText, escaped, isLost, isFirst] = [false, false, false, true];
  let row = '';
  let column = 0;
  /** Where the values of the row begin. */
  let places: TextPlace[] = [];
  let awaits = true;
  const take = (): void => {
    const fields = fieldsOf(row);
    if (fields === null) {
      isLost = true;
      parts.giveUp(notJson(row), rowLine, 1);
      return;
    }
    const names = isFirst ? namesFor(fields, parts) : null;
    isFirst = false;
    if (names !== null) rows.line(names.map(quoted).join(','), rowLine);
    const own = places;
    rows.line(fields.map(quoted).join(','), rowLine, (index) => own[index]);
  };
  return {
    chunk(text) {
      for (const mark of text) {
        if (isLost) return;
        column += mark.length;
        if (mark === '\n') [line, column] = [line + 1, 0];
        if (!inText && mark === ',') awaits = true;
        else if (awaits && mark.trim() !== '' && mark !== '[') {
          places.push({ line, column });
          awaits = false;
        }
        if (inText) {
          if (escaped) escaped = false;
          else if (mark === '\\') escaped = true;
          else if (mark === '"') inText = false;
        } else if (mark === '"') inText = true;
        else if (mark === '[') {
          depth += 1;
          row = '';
          rowLine = line;
          [places, awaits] = [[], true];
        } else if (mark === ']') {
          depth -= 1;
          // The end of the list around the rows leaves nothing.
          if (row !== '') take();
          row = '';
          continue;
        }
        if (mark !== '[' || inText) row += mark;
        if (depth === 0 || (!inText && row.trim() === ',')) row = '';
        if (row.length > mostLineCharacters) {
          isLost = true;
          parts.giveUp(notJson(row), rowLine, 1);
        }
      }
    },
    end() {
      if (isLost) return;
      if (row.trim() !== '') parts.giveUp(cutOff, rowLine, 1);
      else if (depth > 0) parts.giveUp(listWithoutEnd, line);
      else rows.end();
    },
  };
}

const cutOff: Problem = {
  code: 'json-row-unreadable',
  says: 'this list has no end',
  hint: 'the file may have been cut off: export it again',
};

function fieldsOf(row: string): readonly string[] | null {
  try {
    const fields: unknown = JSON.parse(`[${row}]`);
    return Array.isArray(fields)
      ? fields.map((field: unknown) =>
          typeof field === 'string' ? field : field === null ? '' : JSON.stringify(field),
        )
      : null;
  } catch {
    return null;
  }
}

function quoted(field: string): string {
  const line = field.replaceAll('\n', ' ');
  return /[",]/u.test(line) ? `"${line.replaceAll('"', '""')}"` : line;
}
