// Samples with their words and figures, one below the other, beside or below a plot.
import type { VNode } from 'preact';
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

export function entriesColumn(entries: readonly Entry[], widthPx: number): Block {
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
