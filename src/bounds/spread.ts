// Zones that cover one another one by one, found without looking at all of them: they are filed by the readings of one
// clock. A zone that covers another reaches around it there, and one that is covered lies within.
import { nothingFiled, type ReadingRange } from './filed-by-range.js';
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

/** @param along the clock to file by: one that differs from zone to zone */
export function spreadAlong<Node extends Zoned>(along: ClockName): Spread<Node> {
  const filed = nothingFiled<Node>();
  const gone = new Set<Node>();
  const rangeOf = (zone: Zone): ReadingRange => ({
    from: least(zone, along),
    to: greatest(zone, along),
  });
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
  const anyCovers = (nodes: Node[], zone: Zone, to: number): boolean => {
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
      const range = rangeOf(zone);
      for (const nodes of filed.around(range)) {
        if (anyCovers(nodes, zone, range.to)) return true;
      }
      return false;
    },
    add(node) {
      const { zone } = node.at;
      const range = rangeOf(zone);
      const covered: Node[] = [];
      for (const nodes of filed.within(range)) takeCovered(nodes, zone, covered);
      filed.file(range, node);
      return covered;
    },
  };
}

function removeAt(nodes: unknown[], index: number): void {
  const last = nodes.pop();
  if (last !== undefined && index < nodes.length) nodes[index] = last;
}
