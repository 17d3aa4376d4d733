// The paper that any picture is drawn on: one SVG document with a name, a description, a style sheet, and blocks one
// under the other.

import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { pictureWidthLimits } from '../../model/index.js';
import { At, type Block, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { Patterns } from '../patterns.js';
import { styleSheet } from '../style-sheet.js';
import type { Theme } from '../theme.js';

const marginPx = 32;
const gapPx = 26;
const { least: leastWidthPx, most: mostWidthPx } = pictureWidthLimits;
const leastBareWidthPx = 320;

/** Width of a picture that nobody gave a width. */
export const usualWidthPx = 1_120;

/** A width that a picture can be drawn in. @param bare in a page, which may be as narrow as a phone. */
export function sheetWidthPx(wantedPx: number, bare = false): number {
  const leastPx = bare ? leastBareWidthPx : leastWidthPx;
  return Math.round(Math.min(mostWidthPx, Math.max(leastPx, wantedPx)));
}

/** Room for the blocks of a sheet; a bare one has no margin. */
export function innerPx(widthPx: number, bare = false): number {
  return bare ? widthPx : widthPx - 2 * marginPx;
}

export function Sheet({
  title,
  description,
  theme,
  widthPx,
  blocks,
  bare = false,
}: {
  readonly title: string;
  /** For people who hear the picture. */
  readonly description: string;
  readonly theme: Theme;
  readonly widthPx: number;
  readonly blocks: readonly Block[];
  readonly bare?: boolean;
}): VNode {
  const edgePx = bare ? 0 : marginPx;
  let y = bare ? 4 : marginPx;
  const placed = blocks.map(({ height, node }) => {
    const top = y;
    y += height + gapPx;
    return (
      <At x={edgePx} y={top}>
        {node}
      </At>
    );
  });
  const heightPx = px(y - gapPx + (bare ? 4 : marginPx * 0.75));
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      class="dw"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-labelledby="dw-title dw-desc"
    >
      <title id="dw-title">{title}</title>
      <desc id="dw-desc">{description}</desc>
      <style>{styleSheet(theme)}</style>
      <Patterns theme={theme} />
      <rect class="dw-paper" width={widthPx} height={heightPx} />
      {placed}
    </svg>
  );
}

/** A block that is one line of soft words. */
export function lineOf(words: string): Block {
  return {
    height: 12,
    node: (
      <Words x={0} y={10} class="dw-soft">
        {words}
      </Words>
    ),
  };
}

/** A sheet as the text of an XML document. */
export function documentText(sheet: VNode): string {
  // HTML lets "]]>" stand in text, XML does not.
  const svg = renderToString(sheet).replaceAll(']]>', ']]&gt;');
  return `<?xml version="1.0" encoding="UTF-8"?>\n${svg}\n`;
}
