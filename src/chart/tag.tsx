// The number that ties a place in the overview to its close-up.
import type { VNode } from 'preact';
import { Words } from './drawing.js';
import { px } from './numbers.js';
import { textWidth } from './text.js';

const font = { sizePx: 11, bold: true };

export function tagPx(number: string): number {
  return textWidth(number, font) + 7;
}

/** @param y its middle. */
export function Tag({
  x,
  y,
  number,
}: {
  readonly x: number;
  readonly y: number;
  readonly number: string;
}): VNode {
  const width = tagPx(number);
  return (
    <g>
      <rect class="dw-tag" x={px(x)} y={px(y - 7)} width={px(width)} height="14" rx="2.5" />
      <Words
        x={x + width / 2}
        y={y + 4}
        anchor="middle"
        size={font.sizePx}
        class="dw-bold dw-on-badge"
      >
        {number}
      </Words>
    </g>
  );
}
