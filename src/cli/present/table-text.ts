// Tables for a terminal: columns as wide as what stands in them, and lines of words below a row where a row
// needs explaining.
import cliui from 'cliui';
import { columnsOf } from './columns.js';

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

const gap = 2;
const indent = 2;
/** Rows laid out together; a longer table is laid out in parts, so that it need not be held as a whole. */
const rowsAtOnce = 1_000;

/** The table part by part, each ending in a line break. */
export function* tableText(
  columns: readonly Column[],
  rows: Iterable<Row>,
  width: number,
): Generator<string> {
  let part: Row[] = [{ cells: columns.map(({ title }) => title), below: [] }];
  let widths = columns.map(({ title }) => columnsOf(title));
  for (const row of rows) {
    part.push(row);
    if (part.length < rowsAtOnce) continue;
    widths = widened(widths, part);
    yield layOut(columns, part, { widths, width });
    part = [];
  }
  if (part.length > 0) yield layOut(columns, part, { widths: widened(widths, part), width });
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
  const ui = cliui({ width: sizes.width, wrap: true });
  const last = columns.length - 1;
  for (const { cells, below } of rows) {
    ui.div(
      ...columns.map(({ align }, index) => ({
        text: cells[index] ?? '',
        padding: [0, index === last ? 0 : gap, 0, index === 0 ? indent : 0],
        ...(align === undefined ? {} : { align }),
        // The last column takes what is left, and wraps there.
        ...(index === last ? {} : { width: widthOf(sizes.widths, index) }),
      })),
    );
    for (const text of below) ui.div({ text, padding: [0, 0, 0, indent + 2 * gap] });
  }
  return `${withoutTrailingBlanks(ui.toString())}\n`;
}

function widthOf(widths: readonly number[], index: number): number {
  return (widths[index] ?? 0) + gap + (index === 0 ? indent : 0);
}

function withoutTrailingBlanks(text: string): string {
  return text
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n');
}

/** Label and value, one a line, the values in one column. */
export function factsText(
  facts: readonly (readonly [label: string, value: string])[],
  width: number,
): string {
  const labels = Math.max(...facts.map(([label]) => columnsOf(label)));
  const ui = cliui({ width, wrap: true });
  for (const [label, value] of facts) {
    ui.div(
      { text: label, width: labels + indent + gap, padding: [0, gap, 0, indent] },
      { text: value, padding: [0, 0, 0, 0] },
    );
  }
  return `${withoutTrailingBlanks(ui.toString())}\n`;
}
