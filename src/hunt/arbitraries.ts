// Door timelines for property tests. Uniformly random ones almost never trouble a device that looks for an
// instant every few minutes, so edges are placed around the instants at which it looks, sends and boots.
import fc from 'fast-check';
import { trueMs } from '../base/index.js';
import { idealContactEdges, type Spans, spansOf, type World } from '../world/index.js';
import type { Rhythm } from './rhythm.js';

/** What the timelines should look like. */
export interface TimelineShape {
  /** Length of every timeline, in whole milliseconds, at least 1. */
  readonly lengthMs: number;
  /** Where the device looks; see `rhythmOf`. */
  readonly rhythm: Rhythm;
  /** At most this many openings, counted before touching ones are joined. Default 6. */
  readonly mostOpenings?: number;
  /** At most this many network outages. Default 2. */
  readonly mostOutages?: number;
  /** At most this many power losses. Default 1. */
  readonly mostPowerCuts?: number;
  /** At most this many resets. Default 1. */
  readonly mostResets?: number;
}

/** The most rechecks, and the most checks, that a drawn duration spans. */
const longestChecks = 4;

/** A few milliseconds to either side: the sides of a boundary. */
const jitter = fc.constantFrom(0, 1, -1, 2, -2);

/**
 * Instants in `[0, lengthMs)`: mostly within two milliseconds of a check, of the end of an attempt or of a wake
 * of an undisturbed device, else anywhere. Shrink towards the first check.
 */
export function instants({ lengthMs, rhythm }: TimelineShape): fc.Arbitrary<number> {
  const { checkMs, recheckMs, bootMs, connectMs } = rhythm;
  const slots = Math.max(0, Math.floor((lengthMs - bootMs - 1) / Math.max(1, checkMs)));
  const nearAWake = fc
    .tuple(
      fc.nat(slots),
      fc.constantFrom(0, 0, 1, 2),
      fc.constantFrom(0, 0, connectMs, -bootMs),
      jitter,
    )
    .map(
      ([slot, rechecks, part, by]) => bootMs + slot * checkMs + rechecks * recheckMs + part + by,
    );
  return fc
    .oneof({ weight: 4, arbitrary: nearAWake }, { weight: 1, arbitrary: fc.nat(lengthMs - 1) })
    .map((atMs) => Math.min(lengthMs - 1, Math.max(0, atMs)));
}

/**
 * Durations of at least 1 ms: mostly within two milliseconds of a sum of a few checks, rechecks and retries, or
 * just a few milliseconds. Shrink towards 1 ms.
 */
export function lengths({ rhythm }: Pick<TimelineShape, 'rhythm'>): fc.Arbitrary<number> {
  const { checkMs, recheckMs, retryMs, connectMs } = rhythm;
  return fc
    .tuple(
      fc.nat(longestChecks),
      fc.nat(longestChecks),
      fc.constantFrom(0, 0, retryMs),
      fc.constantFrom(0, 0, connectMs),
      fc.oneof(jitter, fc.integer({ min: 1, max: Math.max(1, checkMs) })),
    )
    .map(([checks, rechecks, retry, connect, by]) =>
      Math.max(1, checks * checkMs + rechecks * recheckMs + retry + connect + by),
    );
}

function spans(shape: TimelineShape, most: number): fc.Arbitrary<readonly [number, number][]> {
  const span = fc
    .tuple(instants(shape), lengths(shape))
    .map(([fromMs, forMs]): [number, number] => [fromMs, fromMs + forMs]);
  return fc.array(span, { maxLength: most });
}

/**
 * Openings of a door that starts shut, some of them followed at once by a re-opening (shut for less than a check
 * can see, then open again), the last one perhaps endless.
 */
export function doorOpenings(shape: TimelineShape): fc.Arbitrary<Spans> {
  const shutFor = fc.oneof(
    fc.integer({ min: 1, max: 3 }),
    fc.integer({ min: 1, max: Math.max(1, shape.rhythm.checkMs - 1) }),
  );
  const reopening = fc.option(fc.tuple(shutFor, lengths(shape)));
  const opening = fc.tuple(instants(shape), lengths(shape), reopening);
  return fc
    .tuple(fc.array(opening, { maxLength: shape.mostOpenings ?? 6 }), fc.option(instants(shape)))
    .map(([openings, leftOpenMs]) => {
      const pairs: [number, number][] = [];
      for (const [fromMs, forMs, again] of openings) {
        const toMs = fromMs + forMs;
        pairs.push([fromMs, toMs]);
        if (again !== null) pairs.push([toMs + again[0], toMs + again[0] + again[1]]);
      }
      if (leftOpenMs !== null) pairs.push([leftOpenMs, Number.POSITIVE_INFINITY]);
      return spansOf(pairs.flatMap((pair) => clipped(pair, shape.lengthMs)));
    });
}

/** An opening as a timeline of this length has it: none from its end on, and endless when it is not over by then. */
function clipped([fromMs, toMs]: [number, number], lengthMs: number): [number, number][] {
  if (fromMs >= lengthMs) return [];
  return [[fromMs, toMs > lengthMs ? Number.POSITIVE_INFINITY : toMs]];
}

/** Network outages, most of them around the ends of attempts. */
export function networkOutages(shape: TimelineShape): fc.Arbitrary<Spans> {
  return spans(shape, shape.mostOutages ?? 2).map(spansOf);
}

/** Power losses, from a millisecond to hours. */
export function powerCuts(shape: TimelineShape): fc.Arbitrary<Spans> {
  return spans(shape, shape.mostPowerCuts ?? 1).map(spansOf);
}

/** Instants of resets, ascending. */
export function resets(shape: TimelineShape): fc.Arbitrary<Float64Array> {
  return fc
    .uniqueArray(instants(shape), { maxLength: shape.mostResets ?? 1 })
    .map((atMs) => Float64Array.from(atMs.toSorted((a, b) => a - b)));
}

/**
 * Whole worlds for `simulate`: a door with an ideal contact, outages, power losses and resets; the device powers on
 * at 0. Each part shrinks on its own: taking one opening away leaves the others where they are.
 *
 * ```ts
 * import fc from 'fast-check';
 * import { compileWatch, judge, simulate } from 'dozewatch';
 * import { doorTimelines, rhythmOf } from 'dozewatch/arbitraries';
 *
 * const shape = { lengthMs: 7_200_000, rhythm: rhythmOf(watch, timing), mostOutages: 0 };
 * const program = compileWatch(watch);
 * fc.assert(
 *   fc.property(doorTimelines(shape), (world) => {
 *     const trace = simulate({ program, timing, world, seed: '1' });
 *     return judge(world.openings, trace, asked).summary.missed === 0;
 *   }),
 * );
 * ```
 */
export function doorTimelines(shape: TimelineShape): fc.Arbitrary<World> {
  return fc
    .record({
      openings: doorOpenings(shape),
      networkDown: networkOutages(shape),
      powerLost: powerCuts(shape),
      resetsMs: resets(shape),
    })
    .map((parts) => ({
      ...parts,
      lengthMs: trueMs(shape.lengthMs),
      contact: idealContactEdges(parts.openings),
      powerOnAtMs: trueMs(0),
    }));
}
