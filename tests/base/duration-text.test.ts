// Durations for people: how far they are rounded, and that instants of one text stay apart.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roundedApart, roundedMs } from '../../src/base/index.js';

const instants = fc
  .uniqueArray(fc.integer({ min: 0, max: 7_200_000 }), { minLength: 1, maxLength: 5 })
  .chain((all) =>
    fc.tuple(
      fc.constant(all),
      fc.array(fc.integer({ min: 1, max: 9_000 }), { maxLength: all.length }),
    ),
  )
  .map(([all, byMs]) => [...all, ...byMs.map((ms, index) => (all[index] ?? 0) + ms)]);

describe('instants of one text', () => {
  it('keep their order, and those that differ still differ', () => {
    fc.assert(
      fc.property(instants, (all) => {
        const round = roundedApart(all);
        const sorted = [...new Set(all)].sort((a, b) => a - b);
        const rounded = sorted.map(round);
        expect(rounded).toEqual([...new Set(rounded)].sort((a, b) => a - b));
      }),
    );
  });

  it('are whole seconds from a minute on where none lie close together', () => {
    fc.assert(
      fc.property(instants, (all) => {
        const sorted = [...new Set(all)].sort((a, b) => a - b);
        const isClose = sorted.some((ms, index) => ms - (sorted[index - 1] ?? -5_000) < 5_000);
        const round = roundedApart(all);
        for (const ms of all) {
          expect(Math.abs(round(ms) - ms)).toBeLessThanOrEqual(500);
          if (!isClose) expect(round(ms)).toBe(roundedMs(ms));
        }
      }),
    );
  });

  it('are at most as exact as tenths of a second, where they are a tenth or more apart', () => {
    const [from, by] = [
      fc.integer({ min: 60_000, max: 7_200_000 }),
      fc.integer({ min: 100, max: 4_999 }),
    ];
    fc.assert(
      fc.property(from, by, (ms, byMs) => {
        const round = roundedApart([ms, ms + byMs]);
        expect([round(ms) % 100, round(ms + byMs) % 100]).toEqual([0, 0]);
        // Their distance is what it was, to a tenth.
        expect(Math.abs(round(ms + byMs) - round(ms) - byMs)).toBeLessThanOrEqual(100);
      }),
    );
  });
});
