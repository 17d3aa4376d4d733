// The head of any picture: its title, what it is of, and a row of figures.
import { At, Bar, type Block, Words } from '../drawing.js';
import { wrapText } from '../text.js';
import { type Figure, FigureRow, figuresPx } from './figures.js';

const titleFont = { sizePx: 22, bold: true };
const titleLinePx = 28;
const subtitleFont = { sizePx: 12 };

export interface Head {
  readonly title: string;
  readonly subtitles: readonly string[];
  readonly figures: readonly Figure[];
  readonly note?: Note | null;
}

/** A line of the head that stands out, with how good it is. */
export interface Note {
  readonly words: string;
  readonly standing: 'bad' | 'doubtful' | 'good';
}

const noteLook = { bad: 'dw-fill-missed', doubtful: 'dw-m-late', good: 'dw-reported' } as const;
const noteFont = { sizePx: 13 };
const noteLinePx = 18;
const noteIndentPx = 14;
const noteGapPx = 8;

export function headOf({ title, subtitles, figures, note = null }: Head, widthPx: number): Block {
  const lines = wrapText(title, widthPx, { font: titleFont, mostLines: 2 });
  const below = subtitles.flatMap((words) =>
    wrapText(words, widthPx, { font: subtitleFont, mostLines: 2 }),
  );
  const subtitleY = lines.length * titleLinePx + 14;
  const noted =
    note === null
      ? []
      : wrapText(note.words, widthPx - noteIndentPx, { font: noteFont, mostLines: 4 });
  const noteY = subtitleY + below.length * 17 + (note === null ? 0 : noteGapPx);
  const notePx = noted.length === 0 ? 0 : noted.length * noteLinePx + 4;
  const figuresY = noteY + notePx + 6;
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
        {note === null || noted.length === 0 ? null : (
          <Bar
            x={0}
            y={noteY - 10}
            width={6}
            height={noted.length * noteLinePx - 4}
            class={noteLook[note.standing]}
          />
        )}
        {noted.map((line, index) => (
          <Words x={noteIndentPx} y={noteY + index * noteLinePx} size={noteFont.sizePx}>
            {line}
          </Words>
        ))}
        <At y={figuresY}>
          <FigureRow figures={figures} widthPx={widthPx} />
        </At>
      </g>
    ),
  };
}
