// Every phase at once, against one plain run for each phase, and against the worked examples of the specification.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import type { Requirements } from '../../src/model/index.js';
import { type EveryPhase, everyPhase } from '../../src/phase/index.js';
import type { Experiment } from '../../src/sim/index.js';
import { experiments, type Scale, someLogics } from '../support/arbitraries.js';
import { asked, experimentOf, timingWith } from '../support/experiments.js';
import { chargePlans } from '../support/supply-arbitraries.js';
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
  const openings = Array.from({ length: count }, (_, index) => {
    const { reportedShare, inTimeShare, leastDelayMs, greatestDelayMs } = found.openingAt(index);
    return { reportedShare, inTimeShare, leastDelayMs, greatestDelayMs };
  });
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
