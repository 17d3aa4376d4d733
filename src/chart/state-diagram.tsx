// From the outline of a watch to the text of a picture: its states, and what leads from one to the next.
import type { Outline } from '../emit/index.js';
import { Words } from './drawing.js';
import { documentText, innerPx, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { flowStyle, stateCards } from './states/cards.js';
import { cutText, fileNameOf, wrapText } from './text.js';
import { type ThemeName, themes } from './theme.js';

export interface StateDiagramInput {
  readonly outline: Outline;
  /** The watch's, for the title. */
  readonly file: string;
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: ThemeName | undefined;
}

/** Draws the states of a watch as a whole SVG document, the same bytes every time. */
export function stateDiagram({
  outline,
  file,
  widthPx,
  theme = 'light',
}: StateDiagramInput): string {
  const sheetPx = sheetWidthPx(widthPx ?? usualWidthPx);
  const fullPx = innerPx(sheetPx);
  const title = `The states of ${fileNameOf(file)}`;
  const names = outline.states.map((state) => state.title).join(', ');
  const heading = {
    height: 24,
    node: (
      <g>
        <style>{flowStyle(themes[theme])}</style>
        <Words x={0} y={20} size={22} class="dw-bold">
          {cutText(title, fullPx, { sizePx: 22, bold: true })}
        </Words>
      </g>
    ),
  };
  const always = outline.always.flatMap((words) =>
    wrapText(words, fullPx, { font: { sizePx: 11 }, mostLines: 3 }),
  );
  const notes = {
    height: always.length * 17 - 5,
    node: (
      <g>
        {always.map((words, line) => (
          <Words x={0} y={10 + line * 17} class="dw-soft">
            {words}
          </Words>
        ))}
      </g>
    ),
  };
  return documentText(
    <Sheet
      title={title}
      description={`${outline.states.length} states: ${names}.`}
      theme={themes[theme]}
      widthPx={sheetPx}
      blocks={[heading, stateCards(outline.states, fullPx), notes]}
    />,
  );
}
