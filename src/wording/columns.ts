// How much room text takes on a terminal, and what of it fits. Apart from `plain`, so that help needs no tables
// of character widths.

import stringWidth from 'fast-string-width';
import { plain } from '../base/index.js';

const plainAscii = /^[ -~]*$/u;

/** `plain` text cut to a width in columns, with an ellipsis where something was cut. */
export function plainCut(text: string, columns: number): string {
  // No character is narrower than this many code units a column, so the rest never matters.
  const clean = plain(text.slice(0, columns * 16));
  if (columnsOf(clean) <= columns && text.length <= columns * 16) return clean;
  let kept = '';
  let width = 0;
  for (const character of clean) {
    width += columnsOf(character);
    if (width > columns - 1) break;
    kept += character;
  }
  return `${kept}…`;
}

/** Columns that text takes on a terminal. */
export function columnsOf(text: string): number {
  // Nearly all text is plain ASCII, and looking up the width of each letter takes its time.
  return plainAscii.test(text) ? text.length : stringWidth(text);
}
