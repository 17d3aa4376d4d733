// Durations that somebody requires or may rely on: lines through a plot with their words above it.

import type { VNode } from 'preact';
import { greatestOf } from '../../base/index.js';
import { type TimeScale, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { textWidth } from '../text.js';

export interface Flag {
  readonly ms: number;
  readonly words: string;
  /** A requirement is drawn strong, in the colour of alarm if it is not met; the rest is for comparison. */
  readonly look: 'strong' | 'missed' | 'late' | 'soft';
}

const wordLooks: Readonly<Record<Flag['look'], string>> = {
  strong: 'dw-bold',
  missed: 'dw-bold dw-t-missed',
  late: 'dw-bold dw-t-late',
  soft: 'dw-soft',
};

export const flagRowPx = 16;
const gapPx = 5;
const wordsFootPx = 13;

interface PlacedFlag extends Flag {
  readonly x: number;
  readonly wordsX: number;
  readonly row: number;
}

/** Flags in as many rows as it takes for no words to touch words or lines of others, the first row lowest. */
export function placeFlags(
  flags: readonly Flag[],
  x: TimeScale,
  widthPx: number,
): readonly PlacedFlag[] {
  const placed: PlacedFlag[] = [];
  const left: Flag[] = [];
  const waiting = [...flags].sort((a, b) => a.ms - b.ms);
  for (let flag = waiting.shift(); flag !== undefined; flag = waiting.shift()) {
    const at = x(flag.ms);
    const width = wordsPx(flag);
    const lines = [...left, ...waiting].map(({ ms }) => x(ms));
    const place = placesFor(at, width, flags.length).find(
      ({ row, wordsX }) =>
        wordsX >= 0 &&
        wordsX + width <= widthPx &&
        isFree({ fromX: wordsX, toX: wordsX + width, row }, placed, lines),
    );
    if (place === undefined) left.push(flag);
    else placed.push({ ...flag, x: at, ...place });
  }
  // Above all others no line of theirs is in the way; its own must not strike their words.
  while (left.length > 0) {
    const free = left.findLastIndex(({ ms }) => placed.every((other) => !isStruck(other, x(ms))));
    for (const flag of left.splice(Math.max(0, free), 1)) {
      const at = x(flag.ms);
      placed.push({ ...flag, x: at, ...aboveAll(placed, { at, width: wordsPx(flag), widthPx }) });
    }
  }
  return placed;
}

function isStruck(flag: PlacedFlag, lineX: number): boolean {
  return lineX > flag.wordsX - gapPx && lineX < flag.wordsX + wordsPx(flag) + gapPx;
}

/** In a row above all others, beside its line or over it: words have paper behind them. */
function aboveAll(
  placed: readonly PlacedFlag[],
  flag: { readonly at: number; readonly width: number; readonly widthPx: number },
): { readonly row: number; readonly wordsX: number } {
  const { at, width, widthPx } = flag;
  const wordsX = Math.min(at + gapPx, Math.max(0, widthPx - width));
  return { row: flagRows(placed), wordsX };
}

function wordsPx({ words, look }: Flag): number {
  return textWidth(words, { sizePx: 11, bold: look !== 'soft' });
}

/** Right and left of the line, row by row. */
function placesFor(at: number, width: number, rows: number) {
  return Array.from({ length: rows }, (_, row) => row).flatMap((row) => [
    { row, wordsX: at + gapPx },
    { row, wordsX: at - gapPx - width },
  ]);
}

function isFree(
  room: { readonly fromX: number; readonly toX: number; readonly row: number },
  placed: readonly PlacedFlag[],
  lines: readonly number[],
): boolean {
  const { fromX, toX, row } = room;
  const covers = (from: number, to: number): boolean => from < toX + gapPx && to > fromX - gapPx;
  return (
    lines.every((line) => !covers(line, line)) &&
    placed.every(
      (other) =>
        (other.row < row || !covers(other.x, other.x)) &&
        (other.row !== row || !covers(other.wordsX, other.wordsX + wordsPx(other))),
    )
  );
}

/** A line with its own words over it begins below them. */
function standsUnder(flag: PlacedFlag): boolean {
  return flag.wordsX < flag.x && flag.x < flag.wordsX + wordsPx(flag);
}

/** Rows that placed flags take. */
export function flagRows(flags: readonly { readonly row: number }[]): number {
  return Math.max(0, greatestOf(flags.map(({ row }) => row + 1)));
}

export function Flags({
  flags,
  topY,
  footY,
}: {
  readonly flags: readonly PlacedFlag[];
  /** Where the plot begins and ends. */
  readonly topY: number;
  readonly footY: number;
}): VNode {
  const yOf = (row: number): number => topY - (row + 1) * flagRowPx;
  // All lines first: none strikes the words of another.
  return (
    <g>
      {flags.map((flag) => (
        <path
          class={flag.look === 'soft' ? 'dw-asked-line' : 'dw-worst-line'}
          d={`M${px(flag.x)} ${px(yOf(flag.row) + (standsUnder(flag) ? wordsFootPx : 0))}V${px(footY)}`}
        />
      ))}
      {flags.map(({ wordsX, row, words, look }) => (
        <Words x={wordsX} y={yOf(row) + 9} class={`dw-halo ${wordLooks[look]}`}>
          {words}
        </Words>
      ))}
    </g>
  );
}
