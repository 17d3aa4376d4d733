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

const largePx = 22;
const smallPx = 14;

export function FigureRow({
  figures,
  widthPx,
}: {
  readonly figures: readonly Figure[];
  readonly widthPx: number;
}): VNode {
  const widths = widthsOf(figures, widthPx);
  // All of one size: a short value is not a weightier one.
  const size = figures.every((figure, index) => largeFits(figure, index, widths[index] ?? 0))
    ? largePx
    : smallPx;
  let x = 0;
  return (
    <g>
      <Shape class="dw-rule" d={`M0 .5H${widthPx}M0 ${figuresPx - 0.5}H${widthPx}`} />
      {figures.map((figure, index) => {
        const width = widths[index] ?? 0;
        const at = x;
        x += width;
        return (
          <At x={at} y={0}>
            {index === 0 ? null : <Shape class="dw-rule" d={`M0 8V${figuresPx - 8}`} />}
            <FigureCell
              figure={figure}
              widthPx={width}
              indent={indentOf(figure, index)}
              size={size}
            />
          </At>
        );
      })}
    </g>
  );
}

/** By their shares; where a name would be cut, by what each needs. */
function widthsOf(figures: readonly Figure[], widthPx: number): readonly number[] {
  const shares = figures.reduce((sum, { share }) => sum + share, 0);
  const byShare = figures.map(({ share }) => (widthPx * share) / shares);
  const needs = figures.map(neededPx);
  const needed = needs.reduce((sum, need) => sum + need, 0);
  if (needed > widthPx || needs.every((need, index) => need <= (byShare[index] ?? 0))) {
    return byShare;
  }
  return needs.map((need) => need + (widthPx - needed) / figures.length);
}

/** Beside the sign of an alarm its name and its value have this much less room. */
const signPx = 30;

function neededPx(figure: Figure, index: number): number {
  const { name, value, alarm } = figure;
  const words = Math.max(
    textWidth(name, { sizePx: 11 }),
    textWidth(value, { sizePx: smallPx, bold: true }),
  );
  return indentOf(figure, index) + words + (alarm === null ? 4 : signPx);
}

function largeFits(figure: Figure, index: number, widthPx: number): boolean {
  const room = widthPx - indentOf(figure, index) - (figure.alarm === null ? 0 : signPx);
  return textWidth(figure.value, { sizePx: largePx, bold: true }) <= room;
}

/** The first figure stands flush with the heading, unless a badge stands behind it. */
function indentOf({ alarm }: Figure, index: number): number {
  return index === 0 && alarm === null ? 0 : 12;
}

function FigureCell({
  figure,
  widthPx,
  indent,
  size,
}: {
  readonly figure: Figure;
  readonly widthPx: number;
  readonly indent: number;
  readonly size: number;
}): VNode {
  const { name, value, alarm, late } = figure;
  const label = cutText(name, widthPx - indent - (alarm === null ? 4 : signPx), { sizePx: 11 });
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
