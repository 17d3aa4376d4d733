// How large an overview is drawn: the more rows, the thinner.
import { px } from '../numbers.js';
import type { RowPart, Rows } from './rows.js';

export interface Geometry {
  readonly rows: Rows;
  /** Left edge and width of the plot. */
  readonly plotX: number;
  readonly plotPx: number;
  readonly rowPx: number;
  /** The bar of a row, from the row's top. */
  readonly barY: number;
  readonly barPx: number;
  /** Height of the marks' centre, from the row's top. */
  readonly markY: number;
  readonly markR: number;
  /** Whether there is a line of words over each bar. */
  readonly roomy: boolean;
  readonly fontPx: number;
  /** Room for the count of openings, from the plot's right edge. */
  readonly countPx: number;
}

/** Narrower than this, as on a phone, less is left for labels. */
const narrowPx = 560;

/** @param leastRowPx for rows that can be pressed */
export function geometryOf(rows: Rows, widthPx: number, leastRowPx = 0): Geometry {
  // A week is named with its year.
  const [labelPx, countPx] = widthPx < narrowPx ? [rows.unit === 'week' ? 78 : 70, 34] : [78, 88];
  const plot = { rows, plotX: labelPx, plotPx: widthPx - labelPx - countPx, countPx };
  const count = rows.rows.length;
  if (count <= 10 && rows.unit === 'day') {
    return {
      ...plot,
      rowPx: 44,
      barY: 20,
      barPx: 15,
      markY: 9,
      markR: 6,
      roomy: true,
      fontPx: 11,
    };
  }
  const rowPx = Math.max(
    leastRowPx,
    rows.unit === 'day' ? 19 : Math.max(4, Math.min(15, 900 / count)),
  );
  const barPx = px(rowPx * 0.64);
  const barY = px((rowPx - barPx) / 2);
  return {
    ...plot,
    rowPx: px(rowPx),
    barY,
    barPx,
    markY: px(rowPx / 2),
    markR: px(Math.max(2.6, Math.min(5, rowPx * 0.31))),
    roomy: false,
    fontPx: 11,
  };
}

/** Left edge and width of a part, at least `least` wide. */
export function acrossPx({ plotPx }: Geometry, part: Pick<RowPart, 'from' | 'to'>, least: number) {
  const x = part.from * plotPx;
  return { x: px(x), width: px(Math.max(least, (part.to - part.from) * plotPx)) };
}

/** Top and height of a part's bar: `share` of the full bar, standing on its foot. */
export function barOf({ rowPx, barY, barPx }: Geometry, { row, half }: RowPart, share = 1) {
  const top = row * rowPx + barY;
  const height = half === 'whole' ? barPx : barPx / 2;
  const foot = half === 'upper' ? top + barPx / 2 : top + barPx;
  return { y: px(foot - height * share), height: px(height * share) };
}

/** Rows too thin for words of their own are named by their months only, and not counted. */
export function isThin({ rowPx, fontPx }: Geometry): boolean {
  return rowPx < fontPx + 2;
}
