// A dimension as on a technical drawing: extension lines at both ends, a line with arrows between them, and the
// length in words. Where the distance is too short for its words, the arrows point inwards from outside.
import type { VNode } from 'preact';
import { Bar, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { type Font, textWidth } from '../text.js';

export interface DimensionProps {
  readonly x1: number;
  readonly x2: number;
  /** The line's height; extension lines hang from it down to `footY`. */
  readonly y: number;
  readonly footY: number;
  readonly words: string;
  readonly title: string;
  /** Where words may stand. */
  readonly minX: number;
  readonly maxX: number;
  readonly strong: boolean;
  /** It goes on beyond `x2`, the edge of the picture. */
  readonly goesOn?: boolean;
  readonly class?: string;
}

const arrow = 5;
const gap = 5;

/** All that a dimension covers of its row. */
export function dimensionRoom(dimension: DimensionProps): [fromX: number, toX: number] {
  const { fromX, width } = wordsPlace(dimension);
  const { x1, x2 } = dimension;
  const stub = x2 - x1 < 4 * arrow ? 3 * arrow : 0;
  return [Math.min(x1 - stub, fromX), Math.max(x2 + stub, fromX + width)];
}

/** Where the words of a dimension stand: on its line, or beside it. */
function wordsPlace(
  { x1, x2, words, minX, maxX, strong }: DimensionProps,
  font: Font = { sizePx: 11, bold: strong },
): { readonly inside: boolean; readonly fromX: number; readonly width: number } {
  const width = textWidth(words, font);
  if (x2 - x1 >= width + 4 * arrow + 2 * gap) {
    return { inside: true, fromX: (x1 + x2 - width) / 2, width };
  }
  const out = x2 - x1 < 4 * arrow ? 3 * arrow + gap : gap;
  const right = x2 + out;
  if (right + width <= maxX) return { inside: false, fromX: right, width };
  return { inside: false, fromX: Math.max(minX, x1 - out - width), width };
}

/** Arrow heads at both ends: towards them from within, or from outside where that is too narrow. */
function heads(x1: number, x2: number, y: number): string {
  const inwards = x2 - x1 < 4 * arrow;
  const tip = (x: number, way: number): string => `M${px(x)} ${y}l${px(way * arrow)} -2.5v5Z`;
  return inwards ? tip(x1, -1) + tip(x2, 1) : tip(x1, 1) + tip(x2, -1);
}

function lineOf({ x1, x2, y }: DimensionProps, place: ReturnType<typeof wordsPlace>): string {
  if (x2 - x1 < 4 * arrow) {
    const stub = 3 * arrow;
    return `M${px(x1 - stub)} ${y}H${px(x1)}M${px(x2)} ${y}H${px(x2 + stub)}`;
  }
  if (!place.inside) return `M${px(x1)} ${y}H${px(x2)}`;
  const left = place.fromX - gap;
  const right = place.fromX + place.width + gap;
  return `M${px(x1)} ${y}H${px(left)}M${px(right)} ${y}H${px(x2)}`;
}

export function Dimension(props: DimensionProps): VNode {
  const { x1, x2, y, footY, words, title, strong, goesOn = false } = props;
  const place = wordsPlace(props);
  const line = strong ? 'dw-worst-line' : 'dw-ink-line';
  const ends = (goesOn ? [x1] : [x1, x2]).map((x) => `M${px(x)} ${y - 4}V${footY}`).join('');
  return (
    <g class="dw-dimension">
      <title>{title}</title>
      <path class="dw-axis" d={ends} />
      <path class={line} d={lineOf(props, place)} />
      <path class="dw-arrow" d={heads(x1, x2, y)} />
      <Bar
        x={place.fromX - 2}
        y={y - 6}
        width={place.width + 4}
        height={12}
        class="dw-behind-words"
      />
      <Words
        x={place.fromX}
        y={y + 4}
        class={`dw-halo${strong ? ' dw-bold' : ''} ${props.class ?? ''}`.trim()}
      >
        {words}
      </Words>
    </g>
  );
}
