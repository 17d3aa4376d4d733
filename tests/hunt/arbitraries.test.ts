import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ppm, trueMs } from '../../src/base/index.js';
import { doorTimelines, lengths, type Rhythm, rhythmOf } from '../../src/hunt/index.js';
import { simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { idealContactEdges, type Spans, type World } from '../../src/world/index.js';
import { asked, plainWatch, programOf, timingWith } from '../support/experiments.js';
import { range } from '../support/range.js';

const timing = timingWith({});
const rhythm = rhythmOf(plainWatch, timing);
const lengthMs = 7_200_000;

function ascending(instants: Iterable<number>): boolean {
  const list = [...instants];
  return list.every((atMs, index) => index === 0 || atMs > (list[index - 1] ?? atMs));
}

function edgesOf({ fromMs, toMs }: Spans): number[] {
  return [...fromMs].flatMap((from, index) => [from, toMs[index] ?? 0]);
}

function isWorld(world: World): boolean {
  const { openings, contact, networkDown, powerLost, resetsMs } = world;
  return (
    world.lengthMs === lengthMs &&
    openings.toMs.every((toMs) => toMs <= lengthMs || toMs === Number.POSITIVE_INFINITY) &&
    [openings, networkDown, powerLost].every((spans) => ascending(edgesOf(spans))) &&
    ascending(resetsMs) &&
    [...openings.fromMs, ...networkDown.fromMs, ...powerLost.fromMs, ...resetsMs].every(
      (atMs) => Number.isSafeInteger(atMs) && atMs >= 0 && atMs < lengthMs,
    ) &&
    ascending(contact) &&
    contact.length === idealContactEdges(openings).length
  );
}

describe('the rhythm of a watch', () => {
  it('is its sleeps and its boot time', () => {
    expect(rhythm).toEqual<Rhythm>({
      checkMs: 180_400,
      recheckMs: 180_400,
      retryMs: 60_400,
      bootMs: 400,
      connectMs: 4_000,
    });
  });

  it('takes the least of a range, and the first of a list', () => {
    const { bootMs, connectMs } = rhythmOf(plainWatch, {
      bootTime: { kind: 'range', leastMs: trueMs(200), greatestMs: trueMs(900) },
      connectTime: { kind: 'inTurn', ms: [trueMs(2_000), trueMs(1_000)] },
    });
    expect([bootMs, connectMs]).toEqual([200, 2_000]);
  });
});

describe('door timelines', () => {
  it('are worlds: in order, apart, and begun within the timeline', () => {
    fc.assert(
      fc.property(doorTimelines({ lengthMs, rhythm, mostResets: 4, mostPowerCuts: 3 }), (world) => {
        expect(isWorld(world)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it('have no more of anything than asked for', () => {
    const none = { mostOpenings: 0, mostOutages: 0, mostPowerCuts: 0, mostResets: 0 };
    fc.assert(
      fc.property(doorTimelines({ lengthMs, rhythm, ...none }), (world) => {
        const { networkDown, powerLost, resetsMs, openings } = world;
        expect([networkDown, powerLost].flatMap(edgesOf)).toEqual([]);
        expect(resetsMs).toHaveLength(0);
        // A door may be left open for good on top of the openings.
        expect(openings.fromMs.length).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('can be had for a device that is faster than the timeline is long, or slower', () => {
    for (const shortMs of [1, 2, 399, 400, 401, 180_400]) {
      const [world] = fc.sample(doorTimelines({ lengthMs: shortMs, rhythm }), {
        numRuns: 1,
        seed: 1,
      });
      expect(world?.openings.fromMs.every((atMs) => atMs < shortMs)).toBe(true);
    }
  });

  it('last a millisecond at least, whatever is drawn', () => {
    fc.assert(fc.property(lengths({ rhythm }), (ms) => ms >= 1 && Number.isSafeInteger(ms)));
  });

  it('put edges on, just before and just after checks, far more often than chance would', () => {
    const worlds = fc.sample(doorTimelines({ lengthMs, rhythm, mostPowerCuts: 0, mostResets: 0 }), {
      numRuns: 400,
      seed: 1,
    });
    const near = worlds
      .flatMap(({ openings }) => [...openings.fromMs])
      .map((atMs) => (atMs - rhythm.bootMs + 2) % rhythm.checkMs)
      .filter((offset) => offset >= 0 && offset <= 4);
    for (const offset of range(0, 5)) {
      expect(near.filter((found) => found === offset).length).toBeGreaterThan(20);
    }
    // A wake comes before its check, and the end of an attempt after it.
    const edges = worlds.flatMap(({ openings }) => [...openings.fromMs]);
    for (const partMs of [-rhythm.bootMs, rhythm.connectMs]) {
      const offsets = edges.map((atMs) => (atMs - rhythm.bootMs - partMs + 2) % rhythm.checkMs);
      expect(offsets.filter((offset) => offset >= 0 && offset <= 4).length).toBeGreaterThan(60);
    }
  });

  it('trouble a watch: re-openings hide, cuts forget, outages delay', () => {
    const program = programOf(plainWatch);
    const outcomes = new Set<string>();
    const kinds = new Set<string>();
    const wish = asked({ leaveOpenAfterMs: 361_000, reportWithinMs: 400_000 });
    for (const world of fc.sample(doorTimelines({ lengthMs, rhythm }), { numRuns: 600, seed: 1 })) {
      const trace = simulate({ program, timing, world, seed: '1' }, { record: 'none' });
      const verdict = judge(world.openings, trace, wish);
      range(0, verdict.openings.count).forEach((at) => {
        outcomes.add(verdict.openings.at(at).outcome);
      });
      for (const { kind } of verdict.alerts) kinds.add(kind);
    }
    expect([...outcomes]).toEqual(expect.arrayContaining(['brief', 'late', 'missed', 'reported']));
    expect(kinds.size).toBe(4);
  });

  it('shrink to the least opening that a device cannot see in time', () => {
    const program = programOf(plainWatch);
    const shape = { lengthMs, rhythm, mostOutages: 0, mostPowerCuts: 0, mostResets: 0 };
    const wish = asked({ leaveOpenAfterMs: 180_400 });
    const clockError = { kind: 'fixed' as const, ppm: ppm(0) };
    const found = fc.check(
      fc.property(doorTimelines(shape), (world) => {
        const run = { program, timing: { ...timing, clockError }, world, seed: '1' };
        return judge(world.openings, simulate(run, { record: 'none' }), wish).summary.missed === 0;
      }),
      { seed: 1, numRuns: 2_000 },
    );
    expect(found.failed).toBe(true);
    const [world] = found.counterexample ?? [];
    expect(world?.openings.fromMs.length).toBe(1);
    const lasts = (world?.openings.toMs[0] ?? 0) - (world?.openings.fromMs[0] ?? 0);
    expect(lasts).toBeGreaterThanOrEqual(180_400);
    expect(lasts).toBeLessThan(360_800);
  });
});
