// Every phase at once, against one plain run for each phase, and against the worked examples of the specification.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import type { Requirements } from '../../src/model/index.js';
import { everyPhase } from '../../src/phase/every-phase.js';
import { type EveryPhase, everyPhase as overRanges } from '../../src/phase/index.js';
import type { Experiment } from '../../src/sim/index.js';
import { spansOf } from '../../src/world/index.js';
import { supplyWith } from '../battery/supplies.js';
import { experiments, type Scale, someLogics } from '../support/arbitraries.js';
import { asked, experimentOf, timingWith, watchWith } from '../support/experiments.js';
import { chargePlans } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';
import { phaseByPhase } from './phase-by-phase.js';

/** Periods of a few milliseconds, so that each phase can be run. */
const small: Scale = {
  leastMs: 2,
  mostMs: 40,
  mostBootMs: 4,
  mostConnectMs: 9,
  lengthMs: 500,
  errorPpm: 300_000,
};

function shown(found: EveryPhase | null, experiment: Experiment) {
  if (found === null) throw new Error('it took too many steps');
  const count = experiment.world.openings.fromMs.length;
  const openings = Array.from({ length: count }, (_, index) => found.openingAt(index));
  return { summary: found.summary, openings };
}

const requirements: fc.Arbitrary<Requirements> = fc
  .record({
    leaveOpenAfterMs: fc.integer({ min: 1, max: 90 }),
    reportWithinMs: fc.option(fc.integer({ min: 1, max: 150 })),
  })
  .map(asked);

describe('every phase', () => {
  it('is what plain runs at each phase come out at: all faults, ranges and edges', () => {
    fc.assert(
      fc.property(
        experiments(small, 4, someLogics),
        requirements,
        fc.integer({ min: -60, max: 80 }),
        (drawn, required, firstPowerOnMs) => {
          for (const experiment of drawn) {
            const found = everyPhase(experiment, required, { firstPowerOnMs });
            expect(shown(found, experiment)).toEqual(
              phaseByPhase(experiment, required, firstPowerOnMs),
            );
          }
        },
      ),
      { numRuns: 100 },
    );
  });
});

/** A door by its changes, and spans without a state: in one the door stays as it was, and each ends with a row at the latest. */
const doorsWithGaps = fc
  .record({
    changes: fc.uniqueArray(fc.nat(400), { minLength: 2, maxLength: 9 }),
    gaps: fc.array(
      fc.record({
        at: fc.nat(420),
        lengthMs: fc.integer({ min: 1, max: 60 }),
        isLong: fc.boolean(),
      }),
      { minLength: 1, maxLength: 6 },
    ),
  })
  .map(({ changes, gaps }) => {
    const edges = changes.toSorted((a, b) => a - b);
    const openings = edges.flatMap((from, index) =>
      index % 2 === 0 ? [[from, edges[index + 1] ?? never] as const] : [],
    );
    const unavailable = gaps.map(({ at, lengthMs, isLong }) => {
      const row = edges.find((ms) => ms > at) ?? never;
      return [at, isLong ? row : Math.min(at + lengthMs, row)] as const;
    });
    return { openings, unavailable: spansOf(unavailable) };
  });
const never = Number.POSITIVE_INFINITY;

const quickWatches = fc.record({
  checkIntervalMs: fc.integer({ min: 3, max: 40 }).map(deviceMs),
  recheckIntervalMs: fc.integer({ min: 3, max: 40 }).map(deviceMs),
  retryIntervalMs: fc.integer({ min: 3, max: 40 }).map(deviceMs),
  alertCooldownMs: fc.integer({ min: 0, max: 120 }).map(deviceMs),
  cooldownEndsWhenShut: fc.boolean(),
  unsentWhenShut: fc.constantFrom('send', 'drop'),
});

const quickRequirements = fc
  .record({
    leaveOpenAfterMs: fc.integer({ min: 1, max: 50 }),
    reportWithinMs: fc.option(fc.integer({ min: 1, max: 90 })),
  })
  .map(asked);

describe('every phase of a log with spans without a state', () => {
  it('is what plain runs at each phase come out at', () => {
    const seen = { unknown: 0, unknownAtSome: 0, missedAtSome: 0, lateAtSome: 0 };
    const property = fc.property(
      doorsWithGaps,
      quickWatches,
      quickRequirements,
      fc.array(fc.tuple(fc.nat(400), fc.integer({ min: 1, max: 90 })), { maxLength: 3 }),
      ({ openings, unavailable }, watch, required, outages) => {
        const networkDown = outages.map(([from, length]) => [from, from + length] as const);
        const world = { lengthMs: 420, openings, networkDown };
        const timing = timingWith({ bootMs: 2, connectMs: 7 });
        const experiment = experimentOf(world, { watch, timing });
        const found = everyPhase(experiment, required, { firstPowerOnMs: -50, unavailable });
        const slow = phaseByPhase(experiment, required, -50, unavailable);
        expect(shown(found, experiment)).toEqual(slow);
        for (const { unknownShare, missedShare, reportedShare, inTimeShare } of slow.openings) {
          if (unknownShare === 1) seen.unknown += 1;
          else if (unknownShare > 0) seen.unknownAtSome += 1;
          if (missedShare !== null && missedShare > 0 && missedShare < 1) seen.missedAtSome += 1;
          if ((reportedShare ?? 0) > (inTimeShare ?? 0)) seen.lateAtSome += 1;
        }
      },
    );
    assertUntil(property, { numRuns: 120 }, () => Math.min(...Object.values(seen)) >= 10);
  });
});

describe('every phase on a battery', () => {
  it('is what plain runs come out at, whether the charge can end or not', () => {
    // Supplies that last for parts of a run, and supplies that last for many.
    const plans = (by: number) => chargePlans({ ...small, lengthMs: small.lengthMs * by });
    const plan = fc.oneof(plans(1), plans(30), plans(1_000));
    fc.assert(
      fc.property(
        experiments(small, 1, someLogics),
        plan,
        requirements,
        (drawn, charge, required) => {
          for (const one of drawn) {
            const experiment = { ...one, charge };
            const found = everyPhase(experiment, required);
            const { powerOnAtMs } = experiment.world;
            expect(shown(found, experiment)).toEqual(
              phaseByPhase(experiment, required, powerOnAtMs),
            );
          }
        },
      ),
      { numRuns: 80 },
    );
  });

  it('judges phases that are evenly spread, where runs of all of them would take too long', () => {
    const watch = { checkIntervalMs: deviceMs(1_000), recheckIntervalMs: deviceMs(1_000) };
    const world = {
      lengthMs: 60_000,
      openings: [
        [10_000, 11_500],
        [40_000, 41_500],
      ] as const,
    };
    const supply = supplyWith(
      '{ capacity: 1uAh, sleepCurrent: 100uA, boot: { current: 1mA }, connect: { current: 1mA } }',
    );
    const experiment = {
      ...experimentOf(world, { watch }),
      charge: { supply, charging: { everyMs: null } },
    };
    const required = asked({ leaveOpenAfterMs: 1_500, reportWithinMs: null });
    // As one of many runs, each has time for the fewest phases.
    const some = everyPhase(experiment, required, { firstPowerOnMs: 0, runs: 1e9 });
    const all = everyPhase(experiment, required, { firstPowerOnMs: 0 });
    const phases = all?.summary.phaseLengthMs ?? 0;
    expect([all?.judged, some?.judged, some?.summary.phaseLengthMs]).toEqual([
      undefined,
      50,
      phases,
    ]);
    for (const index of [0, 1]) {
      const missed = (found: EveryPhase | null): number => found?.openingAt(index).missedShare ?? 0;
      expect(Math.abs(missed(some) - missed(all))).toBeLessThanOrEqual(2 / 50);
    }
  });
});

describe('a busy door', () => {
  it('is the same, with many pieces at once', () => {
    // Re-checks of their own length part the phases at each opening, for good.
    const openings = Array.from({ length: 120 }, (_, index) => {
      const fromMs = 50 + index * 97 + (index % 7) * 5;
      return [fromMs, fromMs + 3 + ((index * 11) % 60)] as const;
    });
    const watch = {
      checkIntervalMs: deviceMs(300),
      recheckIntervalMs: deviceMs(41),
      retryIntervalMs: deviceMs(23),
      alertCooldownMs: deviceMs(500),
    };
    const timing = timingWith({ bootMs: 2, connectMs: 9 });
    const world = { lengthMs: 14_000, openings, networkDown: [[4_000, 4_700]] as const };
    const experiment = experimentOf(world, { watch, timing });
    const required = asked({ leaveOpenAfterMs: 40, reportWithinMs: 55 });
    const found = everyPhase(experiment, required);
    expect(shown(found, experiment)).toEqual(phaseByPhase(experiment, required, 0));
    expect(found?.summary.expectedFalseAlarms).toBeGreaterThan(0);
  });
});

describe('one opening of 180 s, with a check every 2 min and threshold 2', () => {
  const watch = { checkIntervalMs: deviceMs(120_000), recheckIntervalMs: deviceMs(120_000) };
  const found = (
    openings: readonly (readonly [number, number])[],
    errorPpm = 0,
    required = asked({ leaveOpenAfterMs: 180_000 }),
  ): EveryPhase => {
    const world = { lengthMs: 20_000_000, openings };
    const experiment = experimentOf(world, { watch, timing: timingWith({ errorPpm }) });
    const answer = everyPhase(experiment, required);
    if (answer === null) throw new Error('it took too many steps');
    return answer;
  };

  it('is reported at 59,600 of 120,400 phases', () => {
    const { summary, openingAt } = found([[10_000_000, 10_180_000]]);
    expect(openingAt(0)).toEqual({
      reportedShare: 59_600 / 120_400,
      inTimeShare: 59_600 / 120_400,
      missedShare: 60_800 / 120_400,
      cutOffShare: 0,
      falseAlarmShare: 0,
      unpoweredShare: 0,
      unknownShare: 0,
      leastDelayMs: 124_400,
      greatestDelayMs: 183_999,
    });
    expect(summary).toEqual({
      expectedMissed: 60_800 / 120_400,
      expectedLate: 0,
      expectedFalseAlarms: 0,
      falseAlarmShare: 0,
      phaseLengthMs: 120_400,
    });
  });

  it('has a longer period with a clock that is 2 % slow', () => {
    const { summary, openingAt } = found([[10_000_000, 10_180_000]], 20_000);
    expect(summary.phaseLengthMs).toBe(122_800);
    expect(openingAt(0).reportedShare).toBe(57_200 / 122_800);
  });

  it('counts the false alarms that two brief openings add up to', () => {
    const { summary } = found([
      [10_000_000, 10_070_000],
      [10_120_400, 10_190_400],
    ]);
    expect(summary.expectedFalseAlarms).toBe(70_000 / 120_400);
    expect(summary.falseAlarmShare).toBe(70_000 / 120_400);
  });

  it('separates the reports in time', () => {
    const required = { ...asked({ leaveOpenAfterMs: 180_000 }), reportWithinMs: trueMs(150_000) };
    const { summary, openingAt } = found([[10_000_000, 10_180_000]], 0, required);
    expect(openingAt(0).inTimeShare).toBe((150_000 - 124_400 + 1) / 120_400);
    expect(summary.expectedLate).toBe((183_999 - 150_000) / 120_400);
  });

  it('gives up beyond a number of steps', () => {
    const experiment = experimentOf({ lengthMs: 20_000_000 }, { watch });
    expect(everyPhase(experiment, asked({}), { mostSteps: 3 })).toBeNull();
  });
});

describe('every phase over the ranges of a watch', () => {
  const opening = (from: number) => [from, from + 170] as const;
  const openings = [10, 3_000, 3_350, 9_000, 30_000].map(opening);
  const watch = watchWith({
    checkIntervalMs: deviceMs(120),
    recheckIntervalMs: deviceMs(45),
    alertCooldownMs: deviceMs(1_800),
  });
  const timing = (least: number, greatest: number) => ({
    ...timingWith({ bootMs: 2, connectMs: 7 }),
    clockError: { kind: 'drawn', leastPpm: ppm(least), greatestPpm: ppm(greatest) } as const,
  });
  const experiment = (least: number, greatest: number) =>
    experimentOf({ lengthMs: 40_000, openings }, { watch, timing: timing(least, greatest) });
  const required = asked({ leaveOpenAfterMs: 200, reportWithinMs: null });

  it('is the same whatever the seed', () => {
    const one = experiment(-10_000, 10_000);
    const [a, b] = ['a', 'b'].map((seed) =>
      shown(overRanges({ ...one, seed }, required, { wasRunning: true }), one),
    );
    expect(a).toEqual(b);
  });

  it('is near to the mean over many clock errors of the range, and no error at its middle', () => {
    const one = experiment(-10_000, 10_000);
    const alarms = (of: EveryPhase | null): number => of?.summary.expectedFalseAlarms ?? Number.NaN;
    const errors = Array.from({ length: 401 }, (_, step) => -10_000 + 50 * step);
    const mean =
      errors
        .map((error) =>
          alarms(everyPhase(experiment(error, error), required, { wasRunning: true })),
        )
        .reduce((sum, count) => sum + count, 0) / errors.length;
    const over = overRanges(one, required, { wasRunning: true });
    expect(over?.runs).toBe(50);
    expect(Math.abs(alarms(over) / mean - 1)).toBeLessThan(0.01);
  });

  it('has the least and the greatest latency of all of them', () => {
    const long = asked({ leaveOpenAfterMs: 150, reportWithinMs: null });
    const wide = overRanges(experiment(-100_000, 100_000), long, { wasRunning: true });
    const one = overRanges(experiment(0, 0), long, { wasRunning: true });
    const [many, few] = [wide?.openingAt(0), one?.openingAt(0)];
    expect(one?.runs).toBeUndefined();
    expect(many?.leastDelayMs).toBeLessThan(few?.leastDelayMs ?? 0);
    expect(many?.greatestDelayMs).toBeGreaterThan(few?.greatestDelayMs ?? 0);
    expect(many?.reportedShare).toBeGreaterThan(0);
  });

  it('gives up beyond its steps', () => {
    expect(overRanges(experiment(-10, 10), required, { wasRunning: true, mostSteps: 1_000 })).toBe(
      null,
    );
  });
});
