// The head of any picture: its title, what it is of, and a row of figures.
import { At, type Block, Words } from '../drawing.js';
import { wrapText } from '../text.js';
import { type Figure, FigureRow, figuresPx } from './figures.js';

const titleFont = { sizePx: 22, bold: true };
const titleLinePx = 28;
const subtitleFont = { sizePx: 12 };

export interface Head {
  readonly title: string;
  readonly subtitles: readonly string[];
  readonly figures: readonly Figure[];
}

export function headOf({ title, subtitles, figures }: Head, widthPx: number): Block {
  const lines = wrapText(title, widthPx, { font: titleFont, mostLines: 2 });
  const below = subtitles.flatMap((words) =>
    wrapText(words, widthPx, { font: subtitleFont, mostLines: 2 }),
  );
  const subtitleY = lines.length * titleLinePx + 14;
  const figuresY = subtitleY + below.length * 17 + 6;
  return {
    height: figuresY + figuresPx,
    node: (
      <g>
        {lines.map((line, index) => (
          <Words x={0} y={20 + index * titleLinePx} size={titleFont.sizePx} class="dw-bold">
            {line}
          </Words>
        ))}
        {below.map((line, index) => (
          <Words x={0} y={subtitleY + index * 17} size={subtitleFont.sizePx} class="dw-soft">
            {line.replace(/^· /u, '')}
          </Words>
        ))}
        <At y={figuresY}>
          <FigureRow figures={figures} widthPx={widthPx} />
        </At>
      </g>
    ),
  };
}
