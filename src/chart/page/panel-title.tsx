// The title of a panel, on as many lines as it needs.
import type { VNode } from 'preact';
import { Words } from '../drawing.js';
import { wrapText } from '../text.js';

const font = { sizePx: 13, bold: true };
const linePx = 17;

/** Its height, with room below it. */
export function panelTitle(
  words: string,
  widthPx: number,
): { readonly height: number; readonly node: VNode } {
  const lines = wrapText(words, widthPx, { font, mostLines: 3 });
  return {
    height: lines.length * linePx + 7,
    node: (
      <g>
        {lines.map((line, index) => (
          <Words x={0} y={12 + index * linePx} size={font.sizePx} class="dw-bold">
            {line}
          </Words>
        ))}
      </g>
    ),
  };
}
