// What zones cover together, where only the opening's clock and one more matter and greater readings of the opening's
// are sought: each zone then is a stretch of readings of the other clock with a ceiling over it, flat or rising one for
// one. The highest ceiling over each stretch is kept, with whose it is.
import { itemAt } from '../base/index.js';
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

/** Parts of a ceiling in the place of `count` of them from an index on. */
interface Edit<Node> {
  readonly at: number;
  count: number;
  readonly parts: Part<Node>[];
}

/**
 * Raises a ceiling to a line where it is lower. Wide lines over many parts are common, and change few of them: the
 * others are passed over without a copy.
 * @returns the nodes that have no part of it any more.
 */
export function raise<Node>(ceiling: Ceiling<Node>, line: Line, node: Node): readonly Node[] {
  const { parts } = ceiling;
  const owner: Owner<Node> = { node, parts: 0 };
  const gone: Node[] = [];
  const edits: Edit<Node>[] = [];
  let reading = line.from;
  let index = firstEndingFrom(parts, line.from);
  for (; index < parts.length; index += 1) {
    const part = itemAt(parts, index);
    if (part.from > line.to) break;
    const shared = { from: Math.max(part.from, line.from), to: Math.min(part.to, line.to) };
    const higher = whereHigher(line, part, shared);
    if (part.from > reading || higher.from <= higher.to) {
      const { owner: old } = part;
      old.parts -= 1;
      const edit = editAt(edits, index);
      edit.count += 1;
      put(edit, { ...line, from: reading, to: Math.min(part.from - 1, line.to) }, owner);
      put(edit, { ...part, to: higher.from - 1 }, old);
      put(edit, { ...line, ...higher }, owner);
      put(edit, { ...part, from: Math.max(higher.to, higher.from - 1) + 1 }, old);
      if (old.parts === 0) gone.push(old.node);
    }
    reading = Math.max(reading, part.to + 1);
  }
  if (reading <= line.to) put(editAt(edits, index), { ...line, from: reading }, owner);
  apply(parts, edits);
  return gone;
}

/** The last edit where it goes on to an index, else a new one. */
function editAt<Node>(edits: Edit<Node>[], index: number): Edit<Node> {
  const last = edits.at(-1);
  if (last !== undefined && last.at + last.count === index) return last;
  const edit: Edit<Node> = { at: index, count: 0, parts: [] };
  edits.push(edit);
  return edit;
}

function put<Node>({ parts }: Edit<Node>, part: Line, owner: Owner<Node>): void {
  if (part.from > part.to) return;
  const before = parts.at(-1);
  if (before?.owner === owner && before.to + 1 === part.from) {
    parts[parts.length - 1] = { ...before, to: part.to };
    return;
  }
  owner.parts += 1;
  const { from, to, flat, rise } = part;
  parts.push({ from, to, flat, rise, owner });
}

/** Lays what comes from the first edit on again. */
function apply<Node>(parts: Part<Node>[], edits: readonly Edit<Node>[]): void {
  const start = edits[0]?.at ?? parts.length;
  const rest = parts.splice(start);
  let from = start;
  for (const edit of edits) {
    for (; from < edit.at; from += 1) parts.push(itemAt(rest, from - start));
    for (const part of edit.parts) parts.push(part);
    from = edit.at + edit.count;
  }
  for (const part of rest.slice(from - start)) parts.push(part);
}

/** Within a stretch, where a line is higher than a part: up to a reading, or from one on; when nowhere, empty beside it. */
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
    ? { from: Math.min(Math.max(from, part.flat - line.rise + 1), to + 1), to }
    : { from, to: Math.min(to, line.flat - part.rise - 1) };
}
