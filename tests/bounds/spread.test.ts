// Zones filed by one clock against a list in which every zone is compared with every other.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Spread, spreadAlong } from '../../src/bounds/spread.js';
import {
  advance,
  includes,
  restart,
  setWithin,
  type Zone,
  zeroZone,
} from '../../src/bounds/zone.js';
import type { Zoned } from '../../src/bounds/zone-list.js';

/** Compares each zone with each other. */
function plainList(): Spread<Zoned> {
  let nodes: Zoned[] = [];
  return {
    covers: (zone) => nodes.some(({ at }) => includes(at.zone, zone)),
    add(node) {
      const covered = nodes.filter(({ at }) => includes(node.at.zone, at.zone));
      nodes = [...nodes.filter((known) => !covered.includes(known)), node];
      return covered;
    },
  };
}

/** Readings of the heartbeat's clock from one to another, with the cooldown's fixed or moving along. */
const zones = fc
  .record({
    from: fc.integer({ min: 0, max: 40 }),
    steps: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 12 }), fc.constant(80)),
    unitMs: fc.constantFrom(1, 250, 500, 60_000),
    cooling: fc.boolean(),
  })
  .map(({ from, steps, unitMs, cooling }): Zone => {
    const spread = setWithin(zeroZone(), 'heartbeat', {
      least: from * unitMs,
      most: (from + steps) * unitMs,
    });
    return cooling ? restart(advance(spread, 0, unitMs), ['opening']) : spread;
  });

it('zones filed by a clock cover and are covered as in a list where each is compared with each', () => {
  fc.assert(
    fc.property(fc.array(zones, { minLength: 1, maxLength: 60 }), (drawn) => {
      const filed = spreadAlong<Zoned>('heartbeat');
      const listed = plainList();
      for (const zone of drawn) {
        const covers = listed.covers(zone);
        expect(filed.covers(zone)).toBe(covers);
        if (covers) continue;
        const node: Zoned = { at: { zone } };
        expect(new Set(filed.add(node))).toEqual(new Set(listed.add(node)));
      }
    }),
  );
});
