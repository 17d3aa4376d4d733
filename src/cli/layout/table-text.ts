// Tables for a terminal: columns as wide as what stands in them, and lines of words below a row where a row
// needs explaining.

import { greatestOf } from '../../base/index.js';
import { columnsOf } from '../../wording/index.js';
import { fittedWidths, wholeWordsWidth } from './fitted-widths.js';
import { wrappedWords } from './wrapped-words.js';

export interface Column {
  readonly title: string;
  readonly align?: 'right';
}

export interface Row {
  /** One for each column; may carry colours, never line breaks or other controls. */
  readonly cells: readonly string[];
  /** Words below the row, wrapped to the width. */
  readonly below: readonly string[];
}

const gap = '  ';
const indent = '  ';
const deepIndent = '      ';
/** Words are never squeezed into less than this. */
const narrowest = 24;
/** Rows laid out together; a longer table is laid out in parts, so that it need not be held as a whole. */
const rowsAtOnce = 1_000;

/**
 * The table part by part, each ending in a line break. Where it is too wide, headings and cells take several lines;
 * one of more columns than the width can hold is left to the terminal.
 */
export function* tableText(
  columns: readonly Column[],
  rows: Iterable<Row>,
  width: number,
): Generator<string> {
  let part: Row[] = [{ cells: columns.map(({ title }) => title), below: [] }];
  let widths = columns.map(() => 0);
  for (const row of rows) {
    part.push(row);
    if (part.length < rowsAtOnce) continue;
    widths = widened(widths, part);
    yield layOut(columns, part, { widths, width });
    part = [];
  }
  if (part.length > 0) yield layOut(columns, part, { widths: widened(widths, part), width });
}

/** Whether a table fits without a word broken. */
export function tableFits(
  columns: readonly Column[],
  rows: readonly Row[],
  width: number,
): boolean {
  const titles = columns.map(({ title }) => title);
  const all = rows.map(({ cells }) => cells);
  return wholeWordsWidth(titles, all) <= roomOf(columns, width);
}

function roomOf(columns: readonly Column[], width: number): number {
  return width - indent.length - gap.length * (columns.length - 1);
}

function widened(widths: readonly number[], rows: readonly Row[]): number[] {
  return widths.map((width, index) =>
    rows.reduce((most, { cells }) => Math.max(most, columnsOf(cells[index] ?? '')), width),
  );
}

function layOut(
  columns: readonly Column[],
  rows: readonly Row[],
  sizes: { readonly widths: readonly number[]; readonly width: number },
): string {
  const room = roomOf(columns, sizes.width);
  const widths = fittedWidths(
    columns.map(({ title }) => title),
    rows.map(({ cells }) => cells),
    { widths: sizes.widths, room },
  );
  const lines: string[] = [];
  for (const { cells, below } of rows) {
    const parts = widths.map((width, index) => cellLines(cells[index] ?? '', width));
    const height = Math.max(1, greatestOf(parts.map((part) => part.length)));
    for (let line = 0; line < height; line += 1) {
      const padded = columns.map(({ align }, index) => {
        const cell = parts[index]?.[line] ?? '';
        const blanks = ' '.repeat(Math.max(0, (widths[index] ?? 0) - columnsOf(cell)));
        return align === 'right' ? blanks + cell : cell + blanks;
      });
      lines.push(`${indent}${padded.join(gap)}`.trimEnd());
    }
    for (const text of below) lines.push(hanging(deepIndent, text, sizes.width));
  }
  return `${lines.join('\n')}\n`;
}

function cellLines(cell: string, width: number): readonly string[] {
  return columnsOf(cell) <= width ? [cell] : wrappedWords(cell, width, { hard: true });
}

/** Label and value, one a line, the values in one column and wrapped there. */
export function factsText(
  facts: readonly (readonly [label: string, value: string])[],
  width: number,
): string {
  const labels = greatestOf(facts.map(([label]) => columnsOf(label)));
  const lines = facts.map(([label, value]) => {
    const blanks = ' '.repeat(labels - columnsOf(label));
    const lead = `${indent}${label}${blanks}${gap}`;
    return lead + hanging(' '.repeat(columnsOf(lead)), value, width).trimStart();
  });
  return `${lines.join('\n')}\n`;
}

/** A paragraph wrapped to a width, its first line after `first`, the others as far in. */
export function paragraphText(text: string, width: number, first = ''): string {
  const lead = ' '.repeat(columnsOf(first));
  return `${first}${hanging(lead, text, width).slice(lead.length)}\n`;
}

/** Words wrapped to a width, every line after the same lead. */
function hanging(lead: string, text: string, width: number): string {
  return wrappedWords(text, Math.max(narrowest, width - lead.length), { hard: true })
    .map((line) => lead + line)
    .join('\n');
}
