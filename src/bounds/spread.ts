// Zones that cover one another one by one, found without looking at all of them: they are filed by the readings of one
// clock, cut into cells. A zone that covers another reaches over its least reading, and the one that is covered begins within.
import { type ClockName, greatest, includes, least, type Zone } from './zone.js';

/** Something with a zone that it covers. */
export interface Zoned {
  readonly at: { readonly zone: Zone };
}

export interface Spread<Node extends Zoned> {
  /** Whether a zone filed here holds all of this one. */
  covers(zone: Zone): boolean;
  /** Files a node. @returns those that it covers: they are here no more. */
  add(node: Node): readonly Node[];
}

/** A zone over more cells than this is looked at always. */
const mostCells = 32;

/** No cell is narrower: zones of real watches begin further apart than that. */
const leastCellMs = 500;

/** The cells of one clock that a zone reaches over. */
interface Reach {
  readonly first: number;
  readonly last: number;
}

/** @param along the clock to file by: one that differs from zone to zone */
export function spreadAlong<Node extends Zoned>(along: ClockName): Spread<Node> {
  const reaching = new Map<number, Node[]>();
  const beginning = new Map<number, Node[]>();
  const wide: Node[] = [];
  const gone = new Set<Node>();
  let cellMs: number | null = null;

  const reachOf = (zone: Zone): Reach => {
    const [from, to] = [least(zone, along), greatest(zone, along)];
    // The first zone sets the size: most are about as wide.
    cellMs ??= Number.isFinite(to - from) ? Math.max(leastCellMs, to - from) : leastCellMs;
    return { first: Math.floor(from / cellMs), last: Math.floor(to / cellMs) };
  };
  const cellsIn = function* ({ first, last }: Reach): Generator<number> {
    if (last - first <= beginning.size) {
      for (let cell = first; cell <= last; cell += 1) yield cell;
      return;
    }
    for (const cell of beginning.keys()) if (first <= cell && cell <= last) yield cell;
  };
  const takeCovered = (nodes: Node[] | undefined, zone: Zone, into: Node[]): void => {
    if (nodes === undefined) return;
    for (let index = nodes.length - 1; index >= 0; index -= 1) {
      const known = nodes[index];
      if (known === undefined || !includes(zone, known.at.zone)) continue;
      removeAt(nodes, index);
      into.push(known);
      gone.add(known);
    }
  };
  const anyCovers = (nodes: Node[] | undefined, zone: Zone): boolean => {
    if (nodes === undefined) return false;
    for (let index = nodes.length - 1; index >= 0; index -= 1) {
      const known = nodes[index];
      if (known === undefined) continue;
      if (gone.has(known)) removeAt(nodes, index);
      else if (includes(known.at.zone, zone)) return true;
    }
    return false;
  };

  return {
    covers(zone) {
      const { first } = reachOf(zone);
      return anyCovers(reaching.get(first), zone) || anyCovers(wide, zone);
    },
    add(node) {
      const { zone } = node.at;
      const reach = reachOf(zone);
      const covered: Node[] = [];
      for (const cell of cellsIn(reach)) takeCovered(beginning.get(cell), zone, covered);
      listIn(beginning, reach.first).push(node);
      if (reach.last - reach.first >= mostCells) wide.push(node);
      else
        for (let cell = reach.first; cell <= reach.last; cell += 1)
          listIn(reaching, cell).push(node);
      return covered;
    },
  };
}

function removeAt(nodes: unknown[], index: number): void {
  const last = nodes.pop();
  if (last !== undefined && index < nodes.length) nodes[index] = last;
}

function listIn<T>(lists: Map<number, T[]>, cell: number): T[] {
  const known = lists.get(cell);
  if (known !== undefined) return known;
  const list: T[] = [];
  lists.set(cell, list);
  return list;
}
