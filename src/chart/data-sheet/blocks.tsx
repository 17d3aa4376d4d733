// The parts of a data sheet: its table, its ordering line, and its settings as a two-dimensional code with the text beside it.

import type { VNode } from 'preact';
import encodeQR from 'qr';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { textWidth, wrapText } from '../text.js';
import type { OrderPart, QuantityRow } from './rows.js';

const rowPx = 16;
const sizePx = 10;
/** Right edges of the three values, and left edges of unit and condition, as shares of the width. */
const columns = { least: 0.41, typical: 0.5, greatest: 0.6, unit: 0.615, condition: 0.66 } as const;

const linePx = 12;

function ConditionLines({ lines, x }: { readonly lines: readonly string[]; readonly x: number }) {
  return (
    <>
      {lines.map((line, index) => (
        <Words x={x} y={11 + index * linePx} size={sizePx} class="dw-soft">
          {line}
        </Words>
      ))}
    </>
  );
}

export function quantityTable(rows: readonly QuantityRow[], widthPx: number): Block {
  const font = { sizePx };
  const at = (share: number): number => share * widthPx;
  const heads = [
    ['quantity', 0, undefined],
    ['min', at(columns.least), 'end'],
    ['typ', at(columns.typical), 'end'],
    ['max', at(columns.greatest), 'end'],
    ['unit', at(columns.unit), undefined],
    ['conditions', at(columns.condition), undefined],
  ] as const;
  // A condition that needs more room takes a second line.
  const room = { font, mostLines: 2 };
  let endPx = rowPx + 2;
  const placed = rows.map((row) => {
    const words = wrapText(row.condition, widthPx - at(columns.condition), room);
    const height = rowPx + linePx * Math.max(0, words.length - 1);
    endPx += height;
    return { row, words, height, y: endPx - height };
  });
  return {
    height: endPx + 2,
    node: (
      <g>
        {heads.map(([words, x, anchor]) => (
          <Words
            x={x}
            y={11}
            size={sizePx}
            class="dw-bold"
            {...(anchor === undefined ? {} : { anchor })}
          >
            {words}
          </Words>
        ))}
        <Shape class="dw-ink-line" d={`M0 ${rowPx + 0.5}H${px(widthPx)}`} />
        {placed.map(({ row, words, height, y }) => (
          <At y={y}>
            <Words x={0} y={11} size={sizePx}>
              {row.name}
            </Words>
            {(['least', 'typical', 'greatest'] as const).map((key) => (
              <Words
                x={at(columns[key])}
                y={11}
                size={sizePx}
                anchor="end"
                class={row[key] === '–' ? 'dw-soft' : 'dw-bold'}
              >
                {row[key]}
              </Words>
            ))}
            <Words x={at(columns.unit)} y={11} size={sizePx}>
              {row.unit}
            </Words>
            <ConditionLines lines={words} x={at(columns.condition)} />
            <Shape class="dw-rule" d={`M0 ${px(height - 0.5)}H${px(widthPx)}`} />
          </At>
        ))}
      </g>
    ),
  };
}

/** Codes in a line, each with its meaning below, level by level so that the meanings do not touch. */
export function orderLine(parts: readonly OrderPart[], widthPx: number): Block {
  const codeFont = { sizePx: 14, bold: true };
  const gapPx = 12;
  let x = 0;
  const placed = parts.map((part, index) => {
    const left = x;
    const codePx = textWidth(part.code, codeFont);
    x += codePx + (index === parts.length - 1 ? 0 : gapPx);
    return { ...part, left, codePx };
  });
  const scale = Math.min(1, widthPx / x);
  const linePx = 13;
  const count = placed.length;
  return {
    height: 30 + count * linePx,
    node: (
      <g>
        {placed.map(({ code, meaning, left, codePx }, index) => {
          const middle = (left + codePx / 2) * scale;
          const y = 32 + (count - 1 - index) * linePx;
          return (
            <g>
              <Words x={left * scale} y={14} size={14 * scale} class="dw-bold">
                {code}
              </Words>
              {index === count - 1 ? null : (
                <Words
                  x={(left + codePx + gapPx / 2) * scale}
                  y={14}
                  size={14 * scale}
                  anchor="middle"
                  class="dw-soft"
                >
                  -
                </Words>
              )}
              <Shape class="dw-rule" d={`M${px(middle)} 20V${y - 3.5}h8`} />
              <Words x={middle + 11} y={y} size={sizePx} class="dw-soft dw-halo">
                {meaning}
              </Words>
            </g>
          );
        })}
      </g>
    ),
  };
}

const codePx = 132;

/** @param text what the code holds; the same stands beside it, to be typed or copied. */
export function settingsCode(
  { text, words }: { readonly text: string; readonly words: string },
  widthPx: number,
): Block {
  const x = codePx + 18;
  const font = { sizePx };
  const lines = brokenText(text, widthPx - x, 9);
  const head = wrapText(words, widthPx - x, { font, mostLines: 2 });
  return {
    height: codePx,
    node: (
      <g>
        <Matrix text={text} />
        {head.map((line, index) => (
          <Words x={x} y={11 + index * 14} size={sizePx} class="dw-bold">
            {line}
          </Words>
        ))}
        {lines.map((line, index) => (
          <Words x={x} y={11 + (head.length + index) * 14 + 4} size={sizePx}>
            {line}
          </Words>
        ))}
      </g>
    ),
  };
}

/** A text without spaces, broken where its line is full. */
function brokenText(text: string, widthPx: number, mostLines: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const letter of text) {
    if (textWidth(line + letter, { sizePx }) > widthPx) {
      lines.push(line);
      line = '';
    }
    line += letter;
  }
  lines.push(line);
  return lines.length <= mostLines ? lines : [...lines.slice(0, mostLines - 1), '…'];
}

/** Dark modules on white, whatever the theme: that is what cameras read. Four light modules stand around it. */
function Matrix({ text }: { readonly text: string }): VNode {
  const modules = encodeQR(text, 'raw', { ecc: 'medium', border: 4 });
  const size = modules.length;
  const runs = modules.flatMap((row, y) =>
    runsOf(row).map(([x, length]) => `M${x} ${y}h${length}v1h-${length}Z`),
  );
  return (
    <g transform={`scale(${px(codePx / size)})`}>
      <rect x={0} y={0} width={size} height={size} fill="#fff" />
      <path d={runs.join('')} fill="#000" shape-rendering="crispEdges" />
    </g>
  );
}

/** Where dark modules begin in a row, and how many there are. */
function runsOf(row: readonly boolean[]): (readonly [number, number])[] {
  const runs: [number, number][] = [];
  row.forEach((dark, x) => {
    const last = runs.at(-1);
    if (!dark) return;
    if (last !== undefined && last[0] + last[1] === x) last[1] += 1;
    else runs.push([x, 1]);
  });
  return runs;
}

/** A heading with a line above it. */
export function sheetHeading(words: string, widthPx: number): Block {
  return {
    height: 18,
    node: (
      <g>
        <Bar x={0} y={0} width={widthPx} height={1} class="dw-arrow" />
        <Words x={0} y={15} size={12} class="dw-bold">
          {words}
        </Words>
      </g>
    ),
  };
}
