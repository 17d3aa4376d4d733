// How wide the columns of a table are where it would be wider than its room: headings take several lines first, then
// cells do between words, and words are broken only where nothing else helps.
import { greatestOf } from '../../base/index.js';
import { columnsOf } from '../../wording/index.js';
import { withUnitsKept } from './wrapped-words.js';

/** No column is made narrower than this by breaking words. */
const narrowest = 8;

/** @param sizes.widths how wide the columns would be by themselves. `room` is what all of them together may take. */
export function fittedWidths(
  titles: readonly string[],
  rows: readonly (readonly string[])[],
  sizes: { readonly widths: readonly number[]; readonly room: number },
): readonly number[] {
  const { widths, room } = sizes;
  if (total(widths) <= room) return widths;
  const words = mostIn(titles, rows, longestWord);
  const steps = [
    mostIn(titles, rows, columnsOf),
    words,
    words.map((word) => Math.min(word, narrowest)),
  ];
  return steps.reduce((now, floors) => narrowed(now, floors, room), widths);
}

/** What all columns together take at least, with no word broken. */
export function wholeWordsWidth(
  titles: readonly string[],
  rows: readonly (readonly string[])[],
): number {
  return total(mostIn(titles, rows, longestWord));
}

/** The most of each column, of whose title only the longest word counts. */
function mostIn(
  titles: readonly string[],
  rows: readonly (readonly string[])[],
  of: (cell: string) => number,
): readonly number[] {
  return titles.map((title, index) =>
    Math.max(
      longestWord(title),
      greatestOf(rows.map(({ [index]: cell = '' }) => (cell === title ? 0 : of(cell)))),
    ),
  );
}

/** The widest column gives way first, a column at a time. */
function narrowed(
  widths: readonly number[],
  floors: readonly number[],
  room: number,
): readonly number[] {
  const now = [...widths];
  for (let excess = total(now) - room; excess > 0; excess -= 1) {
    const spare = now.map((width, index) => (width > (floors[index] ?? 0) ? width : 0));
    const widest = greatestOf(spare);
    if (widest === 0) return now;
    now[spare.indexOf(widest)] = widest - 1;
  }
  return now;
}

function total(widths: readonly number[]): number {
  return widths.reduce((sum, width) => sum + width, 0);
}

function longestWord(text: string): number {
  return Math.max(0, greatestOf(withUnitsKept(text).split(' ').map(columnsOf)));
}
