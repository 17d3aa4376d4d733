// Pictures laid out for the widths that a page is read at: letters stay as large as drawn, on paper too.
import type { Fitting } from './input.js';

const pageWidthPx = 1_056;
/** Of a tablet, and of paper. */
export const middleWidthPx = 700;
/** Of a phone 390 pixels wide, between the margins of the page. */
export const phoneWidthPx = 358;

export function fitting(draw: (widthPx: number) => string): Fitting {
  return { page: draw(pageWidthPx), middle: draw(middleWidthPx), phone: draw(phoneWidthPx) };
}
