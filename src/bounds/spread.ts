// Zones that cover one another one by one, found without looking at all of them: they are filed by the readings of one
// clock, zones about as wide together, in cells as wide as they are, so that each reaches over two cells at most. A zone that
// covers another is no narrower and reaches over its least reading; one that is covered is no wider and begins within.
import { invariant } from '../base/index.js';
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

/** No cell is narrower: zones of real watches begin further apart than that. */
const leastCellMs = 500;

/** Zones wider than half of `cellMs` and no wider than it. */
interface Shelf<Node> {
  readonly cellMs: number;
  readonly reaching: Map<number, Node[]>;
  readonly beginning: Map<number, Node[]>;
}

/** The readings of one clock in a zone. */
interface Reach {
  readonly from: number;
  readonly to: number;
}

/** @param along the clock to file by: one that differs from zone to zone */
export function spreadAlong<Node extends Zoned>(along: ClockName): Spread<Node> {
  /** The narrowest first; each is twice as wide as the one before. */
  const shelves: Shelf<Node>[] = [];
  const gone = new Set<Node>();
  const reachOf = (zone: Zone): Reach => ({ from: least(zone, along), to: greatest(zone, along) });

  const takeCovered = (nodes: Node[], zone: Zone, into: Node[]): void => {
    const to = greatest(zone, along);
    for (let index = nodes.length - 1; index >= 0; index -= 1) {
      const known = nodes[index];
      if (known === undefined || greatest(known.at.zone, along) > to) continue;
      if (!includes(zone, known.at.zone)) continue;
      removeAt(nodes, index);
      into.push(known);
      gone.add(known);
    }
  };
  const anyCovers = (nodes: Node[] | undefined, zone: Zone, to: number): boolean => {
    if (nodes === undefined) return false;
    for (let index = nodes.length - 1; index >= 0; index -= 1) {
      const known = nodes[index];
      if (known === undefined || greatest(known.at.zone, along) < to) continue;
      if (gone.has(known)) removeAt(nodes, index);
      else if (includes(known.at.zone, zone)) return true;
    }
    return false;
  };

  return {
    covers(zone) {
      const { from, to } = reachOf(zone);
      return shelves.some(
        ({ cellMs, reaching }) =>
          cellMs >= to - from && anyCovers(reaching.get(Math.floor(from / cellMs)), zone, to),
      );
    },
    add(node) {
      const { zone } = node.at;
      const reach = reachOf(zone);
      const own = shelfFor(shelves, reach);
      const covered: Node[] = [];
      for (const shelf of shelves) {
        for (const nodes of beginningIn(shelf, reach)) takeCovered(nodes, zone, covered);
        if (shelf === own) break;
      }
      const [first, last] = [
        Math.floor(reach.from / own.cellMs),
        Math.floor(reach.to / own.cellMs),
      ];
      listIn(own.beginning, first).push(node);
      for (let cell = first; cell <= last; cell += 1) listIn(own.reaching, cell).push(node);
      return covered;
    },
  };
}

/** The narrowest shelf whose cells are as wide as a zone reaches; it is made, and all before it, where it is not there yet. */
function shelfFor<Node>(shelves: Shelf<Node>[], { from, to }: Reach): Shelf<Node> {
  invariant(Number.isFinite(to - from), 'a clock to file zones by is bounded', { from, to });
  for (let index = 0; ; index += 1) {
    const shelf = (shelves[index] ??= {
      cellMs: leastCellMs * 2 ** index,
      reaching: new Map(),
      beginning: new Map(),
    });
    if (shelf.cellMs >= to - from) return shelf;
  }
}

/** What begins in the cells of a shelf that a zone reaches over. */
function* beginningIn<Node>({ cellMs, beginning }: Shelf<Node>, reach: Reach): Generator<Node[]> {
  const [first, last] = [Math.floor(reach.from / cellMs), Math.floor(reach.to / cellMs)];
  if (last - first > beginning.size) {
    for (const [cell, nodes] of beginning) if (first <= cell && cell <= last) yield nodes;
    return;
  }
  for (let cell = first; cell <= last; cell += 1) {
    const nodes = beginning.get(cell);
    if (nodes !== undefined) yield nodes;
  }
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
