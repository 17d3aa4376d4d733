// The reducer on requirements that are plain to see: what is left shows it, is within what may happen, and no single step makes it
// simpler; and it makes no more tries than it may.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ppm, trueMs } from '../../src/base/index.js';
import { cutAt, type Reduction, reduced, type Scene, type Span } from '../../src/timeline/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { rangesWith } from '../support/experiments.js';

const minute = 60_000;
const hour = 60 * minute;
const ranges = rangesWith({ bootMs: [200, 900], errorPpm: [-20_000, 30_000] });

const timing = deviceTiming({
  bootTime: { kind: 'inTurn', ms: [300, 400, 500].map(trueMs) },
  connectTime: { kind: 'fixed', ms: trueMs(4_000) },
  clockError: { kind: 'inTurn', ppm: [10, 20].map(ppm) },
});

const nothing: Scene = {
  lengthMs: 24 * hour,
  powerOnAtMs: 0,
  openings: [],
  networkDown: [],
  powerLost: [],
  batteryLow: [],
  resets: [],
  contactFaults: [],
  timing,
};

const usual = {
  allows: () => true,
  ranges,
  steady: 'fixed',
  rounded: ['openings', 'networkDown', 'powerLost', 'resets', 'contactFaults'],
  mostTries: 5_000,
} as const satisfies Omit<Reduction, 'shows'>;

/** Spans apart from each other, from lengths and gaps. */
function spans(most: number): fc.Arbitrary<readonly Span[]> {
  const ms = fc.integer({ min: 1, max: 2 * hour });
  return fc.array(fc.tuple(ms, ms), { maxLength: most }).map((drawn) => {
    let atMs = 0;
    return drawn.map(([gapMs, lastsMs]): Span => {
      const fromMs = atMs + gapMs;
      atMs = fromMs + lastsMs;
      return [fromMs, atMs];
    });
  });
}

const scenes: fc.Arbitrary<Scene> = fc
  .record({ openings: spans(4), networkDown: spans(2), powerLost: spans(2) })
  .map((parts) => ({ ...nothing, ...parts }));

const longest = ({ openings }: Scene): number =>
  Math.max(0, ...openings.map(([fromMs, toMs]) => toMs - fromMs));

describe('a timeline that is reduced', () => {
  it('keeps the one opening that is needed, as short and round as it may be, and nothing else', () => {
    fc.assert(
      fc.property(scenes, fc.integer({ min: 1, max: 90 }), (scene, minutes) => {
        fc.pre(longest(scene) >= minutes * minute);
        const shows = (one: Scene): boolean => longest(one) >= minutes * minute;
        const least = reduced(scene, { ...usual, shows });
        expect(least).toMatchObject({ networkDown: [], powerLost: [] });
        expect(least.openings).toEqual([[minute, (1 + minutes) * minute]]);
        expect(least.timing.bootTime).toEqual({ kind: 'fixed', ms: 900 });
        expect(least.timing.clockError).toEqual({ kind: 'fixed', ppm: 0 });
        // The least of the lengths that a person would give it: 10, 15, 20, 30 min and so on.
        expect(least.lengthMs).toBeGreaterThan((1 + minutes) * minute);
        expect(least.lengthMs).toBeLessThanOrEqual(Math.max(10, 2 * (1 + minutes)) * minute);
      }),
      { numRuns: 50 },
    );
  });

  it('is within what may happen, and shows it, whatever that is', () => {
    fc.assert(
      fc.property(scenes, fc.nat(2), fc.nat(4), (scene, outages, openings) => {
        const shows = (one: Scene): boolean =>
          one.networkDown.length >= outages && one.openings.length >= openings;
        fc.pre(shows(scene));
        const last = scene.openings.at(-1);
        const allows = (one: Scene): boolean =>
          one.openings.at(-1)?.[0] === last?.[0] && one.openings.at(-1)?.[1] === last?.[1];
        const least = reduced(scene, { ...usual, shows, allows });
        expect(shows(least) && allows(least)).toBe(true);
        expect(least.networkDown).toHaveLength(outages);
        expect(least.powerLost).toEqual([]);
        expect(reduced(least, { ...usual, shows, allows })).toEqual(least);
      }),
      { numRuns: 50 },
    );
  });

  it('is left as it is by then where the tries are used up', () => {
    const scene: Scene = { ...nothing, openings: [[1_234, 5 * hour]], networkDown: [[7, 1_007]] };
    let tries = 0;
    const shows = (): boolean => {
      tries += 1;
      return false;
    };
    expect(reduced(scene, { ...usual, shows, mostTries: 5 })).toEqual(scene);
    expect(tries).toBe(5);
    expect(reduced(scene, { ...usual, shows, effortOf: () => 4, mostTries: 5 })).toEqual(scene);
    expect(tries).toBe(7);
  });

  it('keeps a clock error that stays the same as a list of one, where sleeps are counted so', () => {
    const least = reduced(nothing, { ...usual, shows: () => true, steady: 'inTurn' });
    expect(least.timing.clockError.kind).toBe('inTurn');
  });

  it('has no end for what goes on when it is cut', () => {
    const scene: Scene = {
      ...nothing,
      openings: [[minute, hour]],
      powerLost: [[2 * hour, 3 * hour]],
    };
    const cut = cutAt(scene, 30 * minute);
    expect(cut.openings).toEqual([[minute, Number.POSITIVE_INFINITY]]);
    expect(cut.powerLost).toEqual([]);
    expect(cut.lengthMs).toBe(30 * minute);
  });
});
