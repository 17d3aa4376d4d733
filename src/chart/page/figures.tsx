// A row of figures under a heading: what the picture says in numbers.
import type { VNode } from 'preact';
import { At, Bar, Shape, Words } from '../drawing.js';
import { cross, diamond } from '../glyphs.js';
import { cutText, textWidth } from '../text.js';

export interface Figure {
  readonly name: string;
  readonly value: string;
  /** What must leap to the eye stands on a badge. */
  readonly alarm: 'missed' | 'false' | null;
  readonly late: boolean;
  /** How much of the row it takes, beside the others. */
  readonly share: number;
}

export const figuresPx = 54;

export function FigureRow({
  figures,
  widthPx,
}: {
  readonly figures: readonly Figure[];
  readonly widthPx: number;
}): VNode {
  const shares = figures.reduce((sum, { share }) => sum + share, 0);
  let x = 0;
  return (
    <g>
      <Shape class="dw-rule" d={`M0 .5H${widthPx}M0 ${figuresPx - 0.5}H${widthPx}`} />
      {figures.map((figure, index) => {
        const width = (widthPx * figure.share) / shares;
        const at = x;
        x += width;
        return (
          <At x={at} y={0}>
            {index === 0 ? null : <Shape class="dw-rule" d={`M0 8V${figuresPx - 8}`} />}
            <FigureCell figure={figure} widthPx={width} indent={indentOf(figure, index)} />
          </At>
        );
      })}
    </g>
  );
}

/** The first figure stands flush with the heading, unless a badge stands behind it. */
function indentOf({ alarm }: Figure, index: number): number {
  return index === 0 && alarm === null ? 0 : 12;
}

function FigureCell({
  figure,
  widthPx,
  indent,
}: {
  readonly figure: Figure;
  readonly widthPx: number;
  readonly indent: number;
}): VNode {
  const { name, value, alarm, late } = figure;
  const size = textWidth(value, { sizePx: 22, bold: true }) > widthPx - indent ? 14 : 22;
  const label = cutText(name, widthPx - indent - 4, { sizePx: 11 });
  if (alarm === null) {
    const words = late ? ' dw-t-late' : '';
    return (
      <g>
        <Words x={indent} y={19} class={late ? 'dw-t-late' : 'dw-soft'}>
          {label}
        </Words>
        <Words x={indent} y={44} size={size} class={`dw-bold${words}`}>
          {value}
        </Words>
      </g>
    );
  }
  const glyph = alarm === 'missed' ? cross : diamond;
  return (
    <g>
      <Bar x={1} y={4} width={widthPx - 4} height={figuresPx - 8} class={`dw-fill-${alarm}`} />
      <Shape class="dw-badge-glyph" d={glyph(widthPx - 18, figuresPx / 2, 8)} />
      <Words x={indent} y={19} class="dw-on-badge">
        {label}
      </Words>
      <Words x={indent} y={44} size={size} class="dw-bold dw-on-badge">
        {value}
      </Words>
    </g>
  );
}
