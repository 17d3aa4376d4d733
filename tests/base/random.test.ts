// Named random streams, one number at a time and in blocks.
import { describe, expect, it } from 'vitest';
import { randomBlock, randomStream } from '../../src/base/index.js';

describe('a block of random numbers', () => {
  it('holds the numbers that the stream of its name gives one by one', () => {
    const block = randomBlock();
    for (const seed of ['1', '2', 'another']) {
      const stream = randomStream(seed, 'door of a year', 7);
      block.open(seed, 'door of a year', 7);
      const ofBlock = Array.from({ length: 5_000 }, () => block.unit());
      expect(ofBlock).toEqual(ofBlock.map(() => stream.unit()));
    }
  });
});
