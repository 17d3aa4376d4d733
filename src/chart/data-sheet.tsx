// A data sheet on one page of A4: what you can rely on, with its conditions, and its settings to take along.
import { environmentText, lengthBarIn } from '../wording/index.js';
import { orderLine, quantityTable, settingsCode, sheetHeading } from './data-sheet/blocks.js';
import { orderParts, quantityRows } from './data-sheet/rows.js';
import { curvePanel } from './detection/curve-panel.js';
import { type DetectionInput, detectionScene } from './detection/scene.js';
import { describe, isCalm } from './detection/words.js';
import { At, type Block, Words } from './drawing.js';
import { lengthBarBlock } from './page/length-bar.js';
import { documentText, Sheet } from './page/sheet.js';
import { fileNameOf, printable, wrapText } from './text.js';
import { themes } from './theme.js';

/** A4 at 96 pixels an inch. */
const pageWidthPx = 794;
const pageHeightPx = 1_123;
const marginPx = 44;
const innerPx = pageWidthPx - 2 * marginPx;

export interface DataSheetInput extends DetectionInput {
  /** The settings as a text, or the link that carries them. */
  readonly settings: string;
  /** Whether that is a link. */
  readonly isLink: boolean;
  readonly version: string;
  readonly title?: string | undefined;
}

/** @returns a whole SVG document, as large as a page of A4. */
export function dataSheet(input: DataSheetInput): string {
  const scene = detectionScene(input);
  const title = printable(input.title ?? `Data sheet of ${fileNameOf(input.file)}`);
  const bar = lengthBarIn(scene.bounds, scene.watchFile);
  const faults = isCalm(scene) ? 'no faults' : environmentText(scene.watchFile.environment);
  const blocks: readonly Block[] = [
    headBlock(title, [
      `A door monitor that sleeps and checks. Exact bounds, found by exhaustive search; may go wrong: ${faults}.`,
      'At rest: the door is shut, and was seen shut long before it opens. Any state: whatever happened before.',
    ]),
    ...(bar === null ? [] : [lengthBarBlock(bar, innerPx)]),
    curvePanel(scene, innerPx),
    sheetHeading('Characteristics', innerPx),
    quantityTable(quantityRows(scene), innerPx),
    sheetHeading('Ordering line', innerPx),
    orderLine(orderParts(scene), innerPx),
    sheetHeading('Settings', innerPx),
    settingsCode(
      {
        text: input.settings,
        words: input.isLink
          ? 'This link opens the planner with these settings:'
          : 'The planner reads this text in its field “Settings as a text”:',
      },
      innerPx,
    ),
    headBlock('', [
      `dozewatch ${input.version}. Not a certified safety device: it proves the logic and the ranges given, nothing else.`,
    ]),
  ];
  const svg = documentText(
    <Sheet
      title={title}
      description={describe(scene)}
      theme={themes.light}
      widthPx={innerPx}
      blocks={blocks}
      bare
    />,
  );
  return onPage(svg);
}

const titleLinePx = 28;

function headBlock(title: string, lines: readonly string[]): Block {
  const wrapped = lines.flatMap((line) =>
    wrapText(line, innerPx, { font: { sizePx: 10 }, mostLines: 2 }),
  );
  const titleLines =
    title === ''
      ? []
      : wrapText(title, innerPx, { font: { sizePx: 22, bold: true }, mostLines: 2 });
  const topPx = title === '' ? 10 : 14 + titleLines.length * titleLinePx;
  return {
    height: topPx + wrapped.length * 14 - 10,
    node: (
      <g>
        {titleLines.map((line, index) => (
          <Words x={0} y={20 + index * titleLinePx} size={22} class="dw-bold">
            {line}
          </Words>
        ))}
        <At y={topPx - 10}>
          {wrapped.map((line, index) => (
            <Words x={0} y={8 + index * 14} size={10} class="dw-soft">
              {line}
            </Words>
          ))}
        </At>
      </g>
    ),
  };
}

/** The picture on a page of A4: as large as its margins allow, and never larger than drawn. */
function onPage(svg: string): string {
  const found = /width="(?<w>[\d.]+)" height="(?<h>[\d.]+)" viewBox="[^"]*"/u.exec(svg);
  const [whole = '', w = '0', h = '0'] = found ?? [];
  const scale = Math.max(1, Number(h) / (pageHeightPx - 2 * marginPx));
  const [wide, high] = [pageWidthPx * scale, pageHeightPx * scale];
  const [left, top] = [-(wide - Number(w)) / 2, -marginPx * scale];
  const box = [left, top, wide, high].map((one) => one.toFixed(1)).join(' ');
  const size = `width="${String(pageWidthPx)}" height="${String(pageHeightPx)}" viewBox="${box}"`;
  const paper = `<rect class="dw-paper" x="${left.toFixed(1)}" y="${top.toFixed(1)}" width="${wide.toFixed(1)}" height="${high.toFixed(1)}"`;
  return svg
    .replace(whole, size)
    .replace(`<rect class="dw-paper" width="${w}" height="${h}"`, paper);
}
