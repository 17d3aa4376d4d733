// Quantities as people write them: each value in one of the notations that a file may have for it.
import { type Document, isMap, isPair, isSeq, visit } from 'yaml';
import type { Draw } from './draw.js';

const units = [
  ['d', 86_400_000],
  ['h', 3_600_000],
  ['m', 60_000],
  ['s', 1_000],
  ['ms', 1],
] as const;

/** A whole number of milliseconds, in words that say exactly that. */
export function durationWords(ms: number, draw: Draw): string {
  if (ms === 0) return draw.pick(['0s', '0ms', 'PT0S', '0 min']);
  const exact = units.filter(([, size]) => ms % size === 0);
  const [unit, size] = draw.pick(exact);
  switch (draw.pick(['parts', 'parts', 'one', 'decimal', 'iso'])) {
    case 'one':
      return `${String(ms / size)}${draw.pick(['', ' '])}${unit}`;
    case 'decimal':
      // Halves and quarters of a unit, where they are whole milliseconds.
      return decimalWords(ms) ?? partsWords(ms, '');
    case 'iso':
      return isoWords(ms);
    default:
      return partsWords(ms, draw.pick(['', '', ' ']));
  }
}

function partsWords(ms: number, space: string): string {
  let rest = ms;
  const parts: string[] = [];
  for (const [unit, size] of units) {
    const count = Math.floor(rest / size);
    rest -= count * size;
    if (count > 0) parts.push(`${String(count)}${unit}`);
  }
  return parts.join(space);
}

function decimalWords(ms: number): string | null {
  const found = units.find(([, size]) => size > 1 && ms >= size && (ms * 4) % size === 0);
  return found === undefined ? null : `${String(ms / found[1])}${found[0]}`;
}

function isoWords(ms: number): string {
  const days = Math.floor(ms / 86_400_000);
  const rest = ms - days * 86_400_000;
  const minutes = Math.floor(rest / 60_000);
  const seconds = (rest - minutes * 60_000) / 1_000;
  const time = `${minutes > 0 ? `${String(minutes)}M` : ''}${seconds > 0 ? `${String(seconds)}S` : ''}`;
  return `P${days > 0 ? `${String(days)}D` : ''}${time === '' ? '' : `T${time}`}`;
}

/** Parts per million, as a share of a hundred or as they are. */
export function ppmWords(ppm: number, draw: Draw): string {
  if (draw.chance(0.3)) return `${String(ppm)}ppm`;
  return `${ppm > 0 && draw.chance(0.2) ? '+' : ''}${String(ppm / 10_000)}${draw.pick(['%', ' %'])}`;
}

/** Whole micrometres as millimetres. */
export function gapWords(gapUm: number, draw: Draw): string {
  return `${String(gapUm / 1_000)}${draw.pick(['mm', ' mm'])}`;
}

/** A file in the style of some owner: flow or block, a comment here and there. Keys that are undefined are left out. */
export function styled(document: Document, draw: Draw): string {
  visit(document, {
    Collection(_, node) {
      if ((isMap(node) || isSeq(node)) && node.items.length < 4 && draw.chance(0.5)) {
        node.flow = true;
      }
    },
    Pair(_, pair) {
      if (isPair(pair) && draw.chance(0.03)) document.comment = ' drawn for a law';
    },
  });
  return document.toString({ lineWidth: 0, flowCollectionPadding: draw.chance(0.5) });
}

/** An object without its undefined keys, its keys in any order, and all objects in it likewise. */
export function written(value: unknown, draw: Draw): unknown {
  if (Array.isArray(value)) return value.map((item: unknown) => written(item, draw));
  if (typeof value !== 'object' || value === null) return value;
  const given = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return Object.fromEntries(
    draw.shuffled(given).map(([key, inner]) => [key, written(inner, draw)]),
  );
}
