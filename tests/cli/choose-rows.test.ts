import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chosenRows } from '../../src/cli/layout/choose-rows.js';

describe('the rows shown of a long table', () => {
  it('are all of them while they fit', () => {
    expect(chosenRows([3, 5, 8], () => false, 3)).toEqual([3, 5, 8]);
  });

  it('are the bad ones first, then others, in their own order', () => {
    expect(chosenRows([0, 1, 2, 3, 4, 5], (index) => index === 4 || index === 2, 3)).toEqual([
      0, 2, 4,
    ]);
  });

  it('never leave out a bad one for one that is not', () => {
    const indexSet = fc.uniqueArray(fc.nat(60));
    fc.assert(
      fc.property(indexSet, indexSet, fc.nat(20), (all, bad, most) => {
        const indices = all.sort((a, b) => a - b);
        const isBad = (index: number): boolean => bad.includes(index);
        const chosen = chosenRows(indices, isBad, most);
        expect(chosen).toEqual(indices.filter((index) => chosen.includes(index)));
        expect(chosen.length).toBe(Math.min(indices.length, most));
        const leftOut = indices.filter((index) => !chosen.includes(index));
        const someGood = chosen.some((index) => !isBad(index));
        expect(leftOut.some(isBad) && someGood).toBe(false);
      }),
    );
  });
});
