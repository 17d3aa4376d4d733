// Readings of a sensor as states of a door: a voltage or a distance beyond a limit while the door is open.
import { bad, type Decoded, good } from '../text/problem.js';

export type OpenSide = 'above' | 'below';

/** Where the door counts as open. Between the two limits it stays as it was. */
export interface OpenReadings {
  readonly side: OpenSide;
  readonly low: number;
  readonly high: number;
}

/** A number with at most a unit behind it; a comma may be its decimal point. */
const reading = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d{1,3})?(?=\s*[a-zµ°%Ω]{0,6}$)/iu;

/** The number in a text such as `1.21 V`; NaN: it is not a reading. */
export function readingIn(text: string): number {
  const [number] = reading.exec(text.trim()) ?? [];
  return number === undefined ? Number.NaN : Number(number.replace(',', '.'));
}

/** Reads `1.2`, or `1.1..1.3`. Error: `open-limit-unreadable`. */
export function readOpenReadings(side: OpenSide, text: string): Decoded<OpenReadings> {
  const ends = text.split('..').map(readingIn);
  const [low = Number.NaN, high = low] = ends;
  if (ends.length <= 2 && low <= high) return good({ side, low, high });
  return bad('open-limit-unreadable', 'is not a reading', {
    found: text,
    expected:
      'a number, or two of them with the smaller one first: between them the door stays as it was',
    hint: `--open-${side} 1.2, or --open-${side} 1.1..1.3`,
  });
}

/** 1 for open, 0 for shut; null: between the limits. */
export function stateAt(value: number, { side, low, high }: OpenReadings): 0 | 1 | null {
  if (side === 'above') return value > high ? 1 : value <= low ? 0 : null;
  return value < low ? 1 : value >= high ? 0 : null;
}

/** The two groups that readings fall into: where one ends and the other begins, and which of them is rarer. */
export interface ReadingGroups {
  readonly least: number;
  readonly most: number;
  /** Halfway between the two groups, with few digits. */
  readonly limit: number;
  /** Two limits close to it on either side. */
  readonly band: readonly [low: number, high: number];
  readonly rarer: OpenSide;
}

/** Null: they do not fall into two groups. */
export function groupsOf(values: readonly number[]): ReadingGroups | null {
  const sorted = Float64Array.from(values).sort((a, b) => a - b);
  const [least = 0] = sorted;
  const most = sorted.at(-1) ?? 0;
  if (!(most > least)) return null;
  const split = bestSplit(sorted);
  const below = meanOf(sorted.subarray(0, split));
  const above = meanOf(sorted.subarray(split));
  const { limit, band } = limitsBetween(below, above);
  const over = sorted.filter((value) => value > limit).length;
  return { least, most, limit, band, rarer: 2 * over <= sorted.length ? 'above' : 'below' };
}

/** Where two groups differ most in their means, for the size that they have (Otsu 1979). */
function bestSplit(sorted: Float64Array): number {
  const total = sorted.reduce((sum, value) => sum + value, 0);
  let sum = 0;
  let best = { split: 1, between: -1 };
  for (let split = 1; split < sorted.length; split += 1) {
    sum += sorted[split - 1] ?? 0;
    if (sorted[split] === sorted[split - 1]) continue;
    const others = sorted.length - split;
    const apart = sum / split - (total - sum) / others;
    const between = split * others * apart * apart;
    if (between > best.between) best = { split, between };
  }
  return best.split;
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** About halfway, with as few digits as a tenth of the distance needs. */
function limitsBetween(low: number, high: number): Pick<ReadingGroups, 'limit' | 'band'> {
  const step = 10 ** Math.floor(Math.log10((high - low) / 2));
  const steps = Math.round((low + high) / 2 / step);
  const at = (count: number): number => Number((count * step).toPrecision(12));
  return { limit: at(steps), band: [at(steps - 1), at(steps + 1)] };
}
