// Zones that cover one another one by one, found without looking at all of them: they are filed by the readings of one
// clock. A zone that covers another reaches around it there, and one that is covered lies within.
import { pushAll } from '../base/index.js';
import { nothingFiled, type ReadingRange } from './filed-by-range.js';
import { type ClockName, greatest, least, type Zone } from './zone.js';
import {
  coversIn,
  emptyZoneList,
  putOn,
  takeCovered,
  type Zoned,
  type ZoneList,
} from './zone-list.js';

export interface Spread<Node extends Zoned> {
  /** Whether a zone filed here holds all of this one. */
  covers(zone: Zone): boolean;
  /** Files a node. @returns those that it covers: they are here no more. */
  add(node: Node): readonly Node[];
}

/** @param along the clock to file by: one that differs from zone to zone */
export function spreadAlong<Node extends Zoned>(along: ClockName): Spread<Node> {
  const filed = nothingFiled<ZoneList<Node>>(emptyZoneList);
  const gone = new Set<Node>();
  const rangeOf = (zone: Zone): ReadingRange => ({
    from: least(zone, along),
    to: greatest(zone, along),
  });
  return {
    covers(zone) {
      for (const nodes of filed.around(rangeOf(zone))) {
        if (coversIn(nodes, zone, gone)) return true;
      }
      return false;
    },
    add(node) {
      const { zone } = node.at;
      const range = rangeOf(zone);
      const covered: Node[] = [];
      for (const nodes of filed.within(range)) pushAll(covered, takeCovered(nodes, zone));
      for (const one of covered) gone.add(one);
      filed.file(range, (nodes) => {
        putOn(nodes, node);
      });
      return covered;
    },
  };
}
