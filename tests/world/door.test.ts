import { describe, expect, it } from 'vitest';
import { trueMs, um } from '../../src/base/index.js';
import { type DoorMove, openingsOf, wideOpenUm } from '../../src/world/index.js';

type Moves = readonly (readonly [atMs: number, gapMm: number])[];

function moves(pairs: Moves): DoorMove[] {
  return pairs.map(([atMs, gapMm]) => ({ atMs: trueMs(atMs), gapUm: um(gapMm * 1_000) }));
}

function openings(...pairs: Moves): (readonly [number, number])[] {
  const { fromMs, toMs } = openingsOf(moves(pairs), um(2_000));
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? 0] as const);
}

describe('a door', () => {
  it('is open while its gap is over the seal gap, and sealed on the very gap', () => {
    expect(openings([10, 2], [20, 2.001], [30, 2])).toEqual([[20, 30]]);
  });

  it('stays the same opening while it moves without sealing', () => {
    expect(openings([10, 900], [20, 5], [30, 40], [40, 0])).toEqual([[10, 40]]);
  });

  it('that is never shut again gives an endless last opening', () => {
    expect(openings([10, 9], [20, 0], [30, 3])).toEqual([
      [10, 20],
      [30, Number.POSITIVE_INFINITY],
    ]);
  });

  it('that opens and seals in one instant was not open', () => {
    expect(openings([10, 9], [10, 0])).toEqual([]);
  });

  it('that seals and opens in one instant gives one opening: it was open at every instant', () => {
    expect(openings([10, 9], [20, 0], [20, 9], [30, 0])).toEqual([[10, 30]]);
  });

  it('wide open is beyond any contact', () => {
    expect(wideOpenUm).toBeGreaterThan(um(100_000));
  });
});
