// A plot under its title and caption, with a column of samples, words and figures beside it, or below where that has no room.
import type { VNode } from 'preact';
import { ShareAxis, sideWordsPx } from '../detection/axes.js';
import { At, Bar, type Block, Words } from '../drawing.js';
import { cutText } from '../text.js';

export interface Entry {
  /** The class of its sample. */
  readonly look: string;
  readonly words: string;
  /** On a line of its own below the words, where it does not fit beside them. */
  readonly figure: string;
  /** How wide the sample is; default 18. */
  readonly samplePx?: number;
}

const samplePx = 18;
const gapPx = 8;
const linePx = 17;
const font = { sizePx: 11 };
const captionLinePx = 15;
const axisPx = 22;
const besidePx = 24;

/** How wide the plot is, and whether its column stands beside it. */
export interface PlotRoom {
  readonly fullPx: number;
  readonly widthPx: number;
  readonly isBeside: boolean;
}

/** @param columnPx the room of the column with its gap, where the panel is at least `leastBesidePx` wide. */
export function plotRoom(
  fullPx: number,
  { columnPx, leastBesidePx }: { readonly columnPx: number; readonly leastBesidePx: number },
): PlotRoom {
  const isBeside = fullPx >= leastBesidePx;
  return { fullPx, isBeside, widthPx: fullPx - sideWordsPx - (isBeside ? columnPx : 0) };
}

export interface SidePanel {
  readonly title: Block;
  readonly caption: readonly string[];
  readonly entries: readonly Entry[];
  readonly plotPx: number;
  readonly ticks: Parameters<typeof ShareAxis>[0]['ticks'];
  /** What is drawn over the plot's ground. */
  readonly plot: VNode;
}

export function sidePanel(
  { title, caption, entries, plotPx, ticks, plot }: SidePanel,
  { fullPx, widthPx, isBeside }: PlotRoom,
): Block {
  const topY = title.height + caption.length * captionLinePx + 8;
  const belowPx = topY + plotPx + axisPx;
  const columnX = isBeside ? sideWordsPx + widthPx + besidePx : sideWordsPx;
  const column = entriesColumn(entries, fullPx - columnX);
  const columnY = isBeside ? topY + 2 : belowPx + 8;
  return {
    height: Math.max(belowPx, columnY + column.height),
    node: (
      <g>
        {title.node}
        {caption.map((line, index) => (
          <Words x={0} y={title.height + 6 + index * captionLinePx} class="dw-soft">
            {line}
          </Words>
        ))}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          {plot}
        </At>
        <At x={columnX} y={columnY}>
          {column.node}
        </At>
      </g>
    ),
  };
}

function entriesColumn(entries: readonly Entry[], widthPx: number): Block {
  const nodes: VNode[] = [];
  let y = 0;
  for (const entry of entries) {
    const sample = entry.samplePx ?? samplePx;
    const roomPx = widthPx - sample - gapPx;
    const words = entry.figure === '' ? entry.words : `${entry.words}: ${entry.figure}`;
    nodes.push(
      <At y={y}>
        <Bar x={0} y={0} width={sample} height={sample === samplePx ? 12 : 14} class={entry.look} />
        <Words x={sample + gapPx} y={10}>
          {cutText(words, roomPx, font)}
        </Words>
      </At>,
    );
    y += linePx;
  }
  return { height: y, node: <g>{nodes}</g> };
}
