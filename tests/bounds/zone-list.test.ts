// A long list of zones, whose cells lie in one array, against one in which each zone is compared with each.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { advance, includes, setWithin, type Zone, zeroZone } from '../../src/bounds/zone.js';
import {
  coversIn,
  emptyZoneList,
  putOn,
  takeCovered,
  type Zoned,
} from '../../src/bounds/zone-list.js';

const range = fc
  .tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 4 }))
  .map(([least, more]) => ({ least, most: least + more }));

/** Zones in all five clocks, few enough that many cover one another. */
const zones = fc
  .record({ opening: range, outage: range, chatter: range, cooldown: range, laterMs: range })
  .map(({ opening, outage, chatter, cooldown, laterMs }): Zone => {
    const set = setWithin(setWithin(zeroZone(), 'opening', opening), 'outage', outage);
    const both = setWithin(setWithin(set, 'chatter', chatter), 'cooldown', cooldown);
    return advance(both, laterMs.least, laterMs.most);
  });

it('a long list of zones covers, and gives up what is covered, as one that compares each with each', () => {
  let longest = 0;
  fc.assert(
    fc.property(fc.array(zones, { minLength: 20, maxLength: 200 }), (drawn) => {
      const list = emptyZoneList<Zoned>();
      let plain: Zoned[] = [];
      for (const zone of drawn) {
        const covers = plain.some(({ at }) => includes(at.zone, zone));
        expect(coversIn(list, zone)).toBe(covers);
        if (covers) continue;
        const node: Zoned = { at: { zone } };
        const covered = plain.filter(({ at }) => includes(zone, at.zone));
        expect(new Set(takeCovered(list, zone))).toEqual(new Set(covered));
        putOn(list, node);
        plain = [...plain.filter((known) => !covered.includes(known)), node];
        expect(new Set(list.nodes)).toEqual(new Set(plain));
        longest = Math.max(longest, plain.length);
      }
    }),
  );
  expect(longest).toBeGreaterThan(40);
});

it('nodes that have gone from elsewhere leave a list as they are met', () => {
  const list = emptyZoneList<Zoned>();
  const nodes = Array.from({ length: 20 }, (_, ms): Zoned => {
    return { at: { zone: setWithin(zeroZone(), 'opening', { least: ms, most: ms }) } };
  });
  for (const node of nodes) putOn(list, node);
  const [first, second] = nodes;
  if (first === undefined || second === undefined) return expect.fail('there are nodes');
  expect(coversIn(list, first.at.zone)).toBe(true);
  expect(coversIn(list, first.at.zone, new Set([first]))).toBe(false);
  expect(list.nodes.length).toBe(19);
  expect(coversIn(list, second.at.zone, new Set([first]))).toBe(true);
});
