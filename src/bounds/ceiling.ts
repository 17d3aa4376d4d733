// What zones cover together, where only the opening's clock and one more matter and greater readings of the opening's
// are sought: each zone then is a stretch of readings of the other clock with a ceiling over it, flat or rising one for
// one. The highest ceiling over each stretch is kept, with whose it is.
import { type ClockName, ceilingOver, greatest, least, type Zone } from './zone.js';

/** A ceiling `min(flat, reading + rise)` over readings from one to another, both included. */
interface Line {
  readonly from: number;
  readonly to: number;
  readonly flat: number;
  readonly rise: number;
}

/** Whose zone a part of the ceiling is, and how many parts are left of it. */
interface Owner<Node> {
  readonly node: Node;
  parts: number;
}

interface Part<Node> extends Line {
  readonly owner: Owner<Node>;
}

/** Sorted, and no two overlap. */
export interface Ceiling<Node> {
  readonly parts: Part<Node>[];
}

export function lineOf(zone: Zone, along: ClockName): Line {
  return {
    from: least(zone, along),
    to: greatest(zone, along),
    flat: greatest(zone, 'opening'),
    rise: ceilingOver(zone, along),
  };
}

/** Whether ceilings together are nowhere lower than a line. */
export function isUnder<Node>(line: Line, ceilings: readonly Ceiling<Node>[]): boolean {
  let reading = line.from;
  for (;;) {
    let reach = reading - 1;
    for (const { parts } of ceilings) {
      const part = parts[firstEndingFrom(parts, reading)];
      if (part !== undefined && part.from <= reading) {
        reach = Math.max(reach, heldUpTo(part, line, reading));
      }
    }
    if (reach < reading) return false;
    if (reach >= line.to) return true;
    reading = reach + 1;
  }
}

/** Index of the first part that ends at a reading or after it. */
function firstEndingFrom(parts: readonly Line[], reading: number): number {
  let low = 0;
  let high = parts.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((parts[middle]?.to ?? 0) < reading) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** How far from a reading on a part is no lower than a line; before the reading when not even there. */
function heldUpTo(part: Line, { flat, rise }: Line, reading: number): number {
  const needed = Math.min(flat, reading + rise);
  if (Math.min(part.flat, reading + part.rise) < needed) return reading - 1;
  // The line rises until it is flat: a lower flat part holds until then, a lower rising one from there on.
  return part.flat >= flat ? part.to : Math.min(part.to, part.flat - rise);
}

/** Raises a ceiling to a line where it is lower. @returns the nodes that have no part of it any more. */
export function raise<Node>(ceiling: Ceiling<Node>, line: Line, node: Node): readonly Node[] {
  const { parts } = ceiling;
  const owner: Owner<Node> = { node, parts: 0 };
  const first = firstEndingFrom(parts, line.from);
  const next: Part<Node>[] = [];
  const gone: Node[] = [];
  const put = (part: Line, whose: Owner<Node>): void => {
    if (part.from > part.to) return;
    const before = next.at(-1);
    if (before?.owner === whose && before.to + 1 === part.from) {
      next[next.length - 1] = { ...before, to: part.to };
      return;
    }
    whose.parts += 1;
    next.push({ ...part, owner: whose });
  };
  let reading = line.from;
  let last = first;
  for (; last < parts.length; last += 1) {
    const part = parts[last];
    if (part === undefined || part.from > line.to) break;
    put({ ...line, from: reading, to: Math.min(part.from - 1, line.to) }, owner);
    const { owner: old } = part;
    old.parts -= 1;
    const shared = { from: Math.max(part.from, line.from), to: Math.min(part.to, line.to) };
    const higher = whereHigher(line, part, shared);
    put({ ...part, to: higher.from - 1 }, old);
    put({ ...line, ...higher }, owner);
    put({ ...part, from: Math.max(higher.to, higher.from - 1) + 1 }, old);
    if (old.parts === 0) gone.push(old.node);
    reading = Math.max(reading, part.to + 1);
  }
  put({ ...line, from: reading }, owner);
  parts.splice(first, last - first, ...next);
  return gone;
}

/** Within a stretch, where a line is higher than a part: up to a reading, or from one on; empty when nowhere. */
function whereHigher(
  line: Line,
  part: Line,
  { from, to }: { readonly from: number; readonly to: number },
): { readonly from: number; readonly to: number } {
  const flatter = line.flat > part.flat;
  const steeper = line.rise > part.rise;
  const noLower = line.flat >= part.flat && line.rise >= part.rise;
  if (!flatter && !steeper) return { from: to + 1, to };
  if (noLower) return { from, to };
  // The one that rises later is higher in the end, if its flat part is.
  return flatter
    ? { from: Math.max(from, part.flat - line.rise + 1), to }
    : { from, to: Math.min(to, line.flat - part.rise - 1) };
}
