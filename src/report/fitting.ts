// Pictures laid out twice: for the width of a page, and of a phone.
import type { Fitting } from './input.js';

const pageWidthPx = 1_056;
/** Of a phone 390 pixels wide, between the margins of the page. */
export const phoneWidthPx = 358;

export function fitting(draw: (widthPx: number) => string): Fitting {
  return { page: draw(pageWidthPx), phone: draw(phoneWidthPx) };
}
