// Numbers as they stand in a picture: short, and never an engine's idea of a long fraction.
import { inThousands } from '../base/index.js';

/** A coordinate, to a tenth of a pixel. */
export function px(value: number): number {
  const tenths = Math.round(value * 10);
  return tenths === 0 ? 0 : tenths / 10;
}

/** A whole number with thin spaces between its thousands. */
export function countText(count: number): string {
  return inThousands(count, '\u2009');
}

/** `1 alert`, `2 alerts`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${countText(count)} ${count === 1 ? one : many}`;
}
