// The worst detection latency in an overview, as a dimension under its bar. It is mostly short, so that the arrows
// point inwards from outside.
import type { VNode } from 'preact';
import { roundedDurationText } from '../../base/index.js';
import { Shape } from '../drawing.js';
import { px } from '../numbers.js';
import type { WorstDelay } from '../scene.js';
import { barOf, type Geometry } from './geometry.js';
import { partsOf } from './rows.js';

const arrow = 4.5;
const stub = 11;

/** The dimension's part in one row. */
export interface WorstPiece {
  readonly row: number;
  readonly x1: number;
  readonly x2: number;
  /** Height of the line. */
  readonly y: number;
  readonly topY: number;
  readonly isFirst: boolean;
  readonly isLast: boolean;
  readonly narrow: boolean;
  /** All that it covers. */
  readonly fromX: number;
  readonly toX: number;
}

export function worstPieces(worst: WorstDelay, geometry: Geometry): WorstPiece[] {
  const parts = partsOf(geometry.rows, { fromMs: worst.fromMs, toMs: worst.deliveredMs });
  const { rowPx, barY, barPx, plotPx } = geometry;
  return parts.map((part, index) => {
    const x1 = part.from * plotPx;
    const x2 = part.to * plotPx;
    const narrow = x2 - x1 < 4 * arrow;
    const foot = part.row * rowPx + barY + barPx;
    return {
      row: part.row,
      x1: px(x1),
      x2: px(x2),
      y: px(foot + Math.min(5, rowPx - barPx - barY + 1)),
      topY: barOf(geometry, part).y,
      isFirst: index === 0,
      isLast: index === parts.length - 1,
      narrow,
      fromX: narrow ? x1 - stub : x1,
      toX: narrow ? x2 + stub : x2,
    };
  });
}

export function WorstDimension({
  worst,
  geometry,
}: {
  readonly worst: WorstDelay;
  readonly geometry: Geometry;
}): VNode {
  return (
    <g class="dw-dimension">
      <title>{`Worst detection latency: ${roundedDurationText(worst.delayMs, 'at most')}`}</title>
      {worstPieces(worst, geometry).map((piece) => (
        <Piece {...piece} />
      ))}
    </g>
  );
}

function Piece({ x1, x2, y, topY, isFirst, isLast, narrow }: WorstPiece): VNode {
  const tip = (x: number, way: number): string => `M${x} ${y}l${way * arrow} -2.4v4.8Z`;
  const line = narrow
    ? `${isFirst ? `M${px(x1 - stub)} ${y}H${x1}` : ''}${isLast ? `M${x2} ${y}H${px(x2 + stub)}` : ''}`
    : `M${x1} ${y}H${x2}`;
  const foot = px(y + 3);
  const ends = `${isFirst ? `M${x1} ${topY}V${foot}` : ''}${isLast ? `M${x2} ${topY}V${foot}` : ''}`;
  const heads = `${isFirst ? tip(x1, narrow ? -1 : 1) : ''}${isLast ? tip(x2, narrow ? 1 : -1) : ''}`;
  return (
    <g>
      <Shape class="dw-worst-line" d={ends + line} />
      <Shape class="dw-arrow" d={heads} />
    </g>
  );
}
