import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InvariantError, trueMs, um } from '../../src/base/index.js';
import {
  type ContactFault,
  type ContactSettings,
  contactEdgesOf,
  type DoorMove,
  idealContactEdges,
  readsOpenAt,
  spansOf,
  withBounce,
  withFaults,
  within,
} from '../../src/world/index.js';
import { range } from '../support/range.js';

const settings: ContactSettings = {
  operateGapUm: um(8_000),
  releaseGapUm: um(12_000),
  bounceMs: trueMs(1),
};

function edgesOf(...pairs: readonly (readonly [atMs: number, gapUm: number])[]): number[] {
  const moves: DoorMove[] = pairs.map(([atMs, gap]) => ({ atMs: trueMs(atMs), gapUm: um(gap) }));
  return [...contactEdgesOf(moves, settings)];
}

describe('an ideal contact', () => {
  it('reads open exactly while the door is open', () => {
    const openings = spansOf([
      [10, 20],
      [30, Number.POSITIVE_INFINITY],
    ]);
    const edges = idealContactEdges(openings);
    expect([...edges]).toEqual([10, 20, 30]);
    for (const at of [0, 9, 10, 19, 20, 29, 30, 1e9]) {
      expect(readsOpenAt(edges, at)).toBe(within(openings, at));
    }
  });

  it('of a door that never opens has no edge', () => {
    expect(idealContactEdges(spansOf([])).length).toBe(0);
  });
});

describe('a magnet contact', () => {
  it('opens only beyond the release gap, and not on it', () => {
    expect(edgesOf([10, 12_000])).toEqual([]);
    expect(edgesOf([10, 12_001])).toEqual([10]);
  });

  it('closes on the operate gap, and not above it', () => {
    expect(edgesOf([10, 50_000], [20, 8_001])).toEqual([10]);
    expect(edgesOf([10, 50_000], [20, 8_000])).toEqual([10, 20]);
  });

  it('reads a door between the two gaps by where it came from', () => {
    expect(edgesOf([10, 10_000])).toEqual([]);
    expect(edgesOf([10, 50_000], [20, 10_000])).toEqual([10]);
  });

  it('has no edge where the door moves and moves back in one instant', () => {
    expect(edgesOf([10, 50_000], [10, 0])).toEqual([]);
    expect(edgesOf([10, 50_000], [20, 0], [20, 50_000])).toEqual([10]);
  });
});

describe('bounce', () => {
  it('of one millisecond is over before a whole millisecond can see it', () => {
    const edges = Float64Array.from([10, 20]);
    expect(withBounce(edges, trueMs(1))).toBe(edges);
    expect(withBounce(edges, trueMs(0))).toBe(edges);
  });

  it.each([
    [2, [10]],
    [3, [10, 11, 12]],
    [4, [10, 11, 12]],
    [5, [10, 11, 12, 13, 14]],
  ])('of %i ms alternates each millisecond and ends on the new reading', (bounceMs, wanted) => {
    expect([...withBounce(Float64Array.from([10]), trueMs(bounceMs))]).toEqual(wanted);
  });

  it('is cut off by the next true edge', () => {
    expect([...withBounce(Float64Array.from([10, 13]), trueMs(9))]).toEqual([
      10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21,
    ]);
  });

  it('reads right again once it is over, and before the first edge, whatever the edges', () => {
    const edgeLists = fc
      .uniqueArray(fc.nat(200), { maxLength: 10 })
      .map((list) => Float64Array.from(list.toSorted((a, b) => a - b)));
    fc.assert(
      fc.property(edgeLists, fc.nat(12), (edges, bounceMs) => {
        const bounced = withBounce(edges, trueMs(bounceMs));
        const wrong = range(0, 220).filter((at) => {
          const settled = edges.every((edge) => at < edge || at >= edge + bounceMs);
          return settled && readsOpenAt(bounced, at) !== readsOpenAt(edges, at);
        });
        expect(wrong).toEqual([]);
        expect([...bounced]).toEqual([...new Set(bounced)].toSorted((a, b) => a - b));
      }),
    );
  });
});

function stuck(at: 'open' | 'shut', fromMs: number, toMs: number): ContactFault {
  return { fromMs: trueMs(fromMs), toMs: trueMs(toMs), reads: { kind: 'stuck', at } };
}

function chatter(fromMs: number, toMs: number, openShare: number, slotMs = 1): ContactFault {
  const reads = { kind: 'chattering' as const, openShare, slotMs: trueMs(slotMs) };
  return { fromMs: trueMs(fromMs), toMs: trueMs(toMs), reads };
}

describe('contact faults', () => {
  const edges = Float64Array.from([10, 20, 30, 40]);

  it('without any leave the contact as it is', () => {
    expect(withFaults(edges, [], 'seed')).toBe(edges);
  });

  it('stuck shut hides what the door does meanwhile, and then the truth is back', () => {
    expect([...withFaults(edges, [stuck('shut', 5, 35)], 'seed')]).toEqual([35, 40]);
  });

  it('stuck open reads open, and then the truth is back', () => {
    expect([...withFaults(edges, [stuck('open', 22, 25)], 'seed')]).toEqual([
      10, 20, 22, 25, 30, 40,
    ]);
  });

  it('stuck the way the contact reads anyway has no edge', () => {
    expect([...withFaults(edges, [stuck('open', 12, 18)], 'seed')]).toEqual([10, 20, 30, 40]);
  });

  it('that end on an edge have it just once', () => {
    expect([...withFaults(edges, [stuck('shut', 5, 10)], 'seed')]).toEqual([10, 20, 30, 40]);
    expect([...withFaults(edges, [stuck('open', 5, 20)], 'seed')]).toEqual([5, 20, 30, 40]);
  });

  it('are taken in the order of time, however they are listed', () => {
    const faults = [stuck('open', 50, 60), stuck('shut', 5, 15)];
    expect([...withFaults(edges, faults, 'seed')]).toEqual([15, 20, 30, 40, 50, 60]);
  });

  it('may touch, and must not overlap', () => {
    expect([...withFaults(edges, [stuck('shut', 5, 15), stuck('open', 15, 25)], 'seed')]).toEqual([
      15, 25, 30, 40,
    ]);
    expect(() => withFaults(edges, [stuck('shut', 5, 16), stuck('open', 15, 25)], 'seed')).toThrow(
      InvariantError,
    );
  });

  it('chattering draws each slot separately, with the given share', () => {
    const reads = withFaults(new Float64Array(0), [chatter(0, 20_000, 0.25, 2)], 'seed');
    const slots = range(0, 10_000).map((index) => index * 2);
    const open = slots.filter((slot) => readsOpenAt(reads, slot));
    expect(slots.filter((slot) => readsOpenAt(reads, slot + 1))).toEqual(open);
    // 10,000 draws: five standard deviations are 217.
    expect(Math.abs(open.length - 2_500)).toBeLessThan(217);
    expect(readsOpenAt(reads, 20_000)).toBe(false);
  });

  it('chattering with share 0 reads shut, with share 1 open', () => {
    expect([...withFaults(edges, [chatter(0, 50, 0)], 'seed')]).toEqual([]);
    expect([...withFaults(edges, [chatter(0, 50, 1)], 'seed')]).toEqual([0, 50]);
  });

  it('chatter the same for the same seed, whatever other faults there are', () => {
    const alone = withFaults(edges, [chatter(100, 200, 0.5)], 'seed');
    const together = withFaults(edges, [stuck('open', 50, 60), chatter(100, 200, 0.5)], 'seed');
    const other = withFaults(edges, [chatter(100, 200, 0.5)], 'another');
    const fromChatterOn = (reads: Float64Array) => reads.filter((edge) => edge >= 100);
    expect(fromChatterOn(together)).toEqual(fromChatterOn(alone));
    expect(fromChatterOn(other)).not.toEqual(fromChatterOn(alone));
  });

  it('read what they say within, and the truth without, for any edges', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.nat(60), { maxLength: 8 }),
        fc.nat(50),
        fc.integer({ min: 1, max: 30 }),
        fc.constantFrom('open', 'shut'),
        (list, fromMs, forMs, at) => {
          const truth = Float64Array.from(list.toSorted((a, b) => a - b));
          const faulty = withFaults(truth, [stuck(at, fromMs, fromMs + forMs)], 'seed');
          const wrong = range(0, 100).filter((ms) => {
            const inFault = fromMs <= ms && ms < fromMs + forMs;
            return readsOpenAt(faulty, ms) !== (inFault ? at === 'open' : readsOpenAt(truth, ms));
          });
          expect(wrong).toEqual([]);
        },
      ),
    );
  });
});
