// Pictures laid out for the widths that a page is read at: letters stay as large as drawn, on paper too.
import type { Fitting } from './input.js';

const pageWidthPx = 1_056;
/** Of a tablet, and of paper. */
const middleWidthPx = 700;
/** Of a phone 390 pixels wide, between the margins of the page. */
export const phoneWidthPx = 358;

/** Of a still picture whose place a live one takes on a screen, more characters than this are carried once and not three times. */
const mostCharsThrice = 100_000;

export function fitting(draw: (widthPx: number) => string): Fitting {
  return { page: draw(pageWidthPx), middle: draw(middleWidthPx), phone: draw(phoneWidthPx) };
}

/** For a picture that a live one replaces: where it is large, paper and readers without scripts share one. */
export function stillFitting(draw: (widthPx: number) => string): Fitting {
  const middle = draw(middleWidthPx);
  return middle.length > mostCharsThrice
    ? { page: null, middle, phone: null }
    : { page: draw(pageWidthPx), middle, phone: draw(phoneWidthPx) };
}
