// A search that outgrows its limit is answered with what is true then; any other error is a mistake, and passes.
import { describe, expect, it } from 'vitest';
import { TooManyStatesError, unlessOutgrown } from '../../src/bounds/visited.js';

const throwing = (error: Error) => () => {
  throw error;
};

describe('what a search finds', () => {
  it('is its result', () => {
    expect(unlessOutgrown(() => 7, String)).toBe(7);
  });

  it('is answered with its limit where it outgrows that', () => {
    const limit = unlessOutgrown(
      throwing(new TooManyStatesError(30)),
      ({ mostNodes }) => mostNodes,
    );
    expect(limit).toBe(30);
  });

  it('is nothing where something else goes wrong', () => {
    const error = new RangeError('wrong');
    expect(() => unlessOutgrown(throwing(error), () => null)).toThrow(error);
  });
});
