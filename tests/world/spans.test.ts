import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InvariantError } from '../../src/base/index.js';
import { firstAfter, noSpans, spanAt, spansOf, within } from '../../src/world/index.js';
import { range } from '../support/range.js';

const pairs = fc
  .array(fc.tuple(fc.nat(60), fc.nat(20)), { maxLength: 8 })
  .map((drawn) => drawn.map(([from, length]) => [from, from + length] as const));

describe('spans', () => {
  it('are sorted, and touching and overlapping ones are one', () => {
    const spans = spansOf([
      [30, 40],
      [0, 10],
      [10, 20],
      [15, 18],
    ]);
    expect([...spans.fromMs]).toEqual([0, 30]);
    expect([...spans.toMs]).toEqual([20, 40]);
  });

  it('leave out empty ones', () => {
    expect(spansOf([[5, 5]])).toEqual(noSpans);
  });

  it('may end with an endless one, which swallows all that follows its start', () => {
    const spans = spansOf([
      [50, 60],
      [10, Number.POSITIVE_INFINITY],
    ]);
    expect([...spans.fromMs]).toEqual([10]);
    expect(spanAt(spans, 1e15)).toBe(0);
  });

  it('refuse one that ends before it starts', () => {
    expect(() => spansOf([[10, 9]])).toThrow(InvariantError);
  });

  it('hold their first instant and not their last', () => {
    const spans = spansOf([
      [10, 20],
      [30, 31],
    ]);
    expect([9, 10, 19, 20, 30, 31].map((at) => spanAt(spans, at))).toEqual([-1, 0, 0, -1, 1, -1]);
    expect(within(spans, 10)).toBe(true);
    expect(within(spans, 20)).toBe(false);
  });

  it('hold just the instants that some pair held, whatever the pairs', () => {
    fc.assert(
      fc.property(pairs, (drawn) => {
        const spans = spansOf(drawn);
        const holds = (at: number) => drawn.some(([from, to]) => from <= at && at < to);
        expect(range(-1, 82).filter((at) => within(spans, at) !== holds(at))).toEqual([]);
        const edges = range(0, spans.fromMs.length).flatMap((index) => [
          spans.fromMs[index] ?? 0,
          spans.toMs[index] ?? 0,
        ]);
        expect(edges).toEqual([...new Set(edges)].toSorted((a, b) => a - b));
      }),
    );
  });

  it('are searched for the first instant that is later, not equal', () => {
    const instants = Float64Array.from([10, 20, 20, 30]);
    expect([5, 10, 19, 20, 30].map((at) => firstAfter(instants, at))).toEqual([0, 1, 1, 3, 4]);
  });
});
