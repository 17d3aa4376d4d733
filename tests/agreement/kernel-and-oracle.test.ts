// The kernel (table, jumps over equal wakes) against the naive interpreter, over random watches and worlds.
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { type Experiment, simulate, type Trace } from '../../src/sim/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { interpret } from '../support/oracle.js';
import { expectSame } from '../support/same.js';
import { chargePlansOfCells, onCharge } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';

function expectAgreement(experiment: Experiment): ReturnType<typeof simulate> {
  const wanted = interpret(experiment);
  const trace = simulate(experiment);
  const { clockErrorPpm } = trace.tally;
  expectSame(trace.alerts, wanted.alerts);
  expectSame(expandWakes(trace), wanted.wakes);
  expectSame(trace.flat, wanted.flat);
  expectSame(trace.charges, wanted.charges);
  expectSame(trace.lowBattery, wanted.lowBattery);
  expectSame(trace.lowBatteryDue, lowBatteryDueIn(wanted.wakes));
  expectSame(trace.tally, { ...wanted.tally, clockErrorPpm });
  // Unrecorded runs take longer jumps.
  expectSame(simulate(experiment, { record: 'none' }), { ...trace, wakes: [] });
  return trace;
}

/** As the wakes show it: the watch tries at each check that finds a message due. */
function lowBatteryDueIn(wakes: ReturnType<typeof interpret>['wakes']): Trace['lowBatteryDue'] {
  const tries = wakes.flatMap(({ checkMs, alertSend, lowBatterySend, lowBatteryWithAlert }) => {
    const sent = lowBatteryWithAlert ? alertSend : lowBatterySend;
    return sent === null || checkMs === null ? [] : [{ ...sent, checkMs }];
  });
  const [first] = tries;
  if (first === undefined) return null;
  const inVain = tries.filter(({ outcome }) => outcome !== 'delivered');
  const failed = inVain.filter(({ outcome }) => outcome === 'failed').length;
  const lastMs = inVain.at(-1)?.endMs ?? null;
  return { firstMs: first.checkMs, failed, cutOff: inVain.length - failed, lastMs };
}

describe('the kernel and the naive interpreter', () => {
  it.each(scales)('agree on all wakes, alerts and totals: sleeps from $leastMs ms', (scale) => {
    let runs = 0;
    assertUntil(
      fc.property(experiments(scale, 40), (drawn) => {
        for (const experiment of drawn) {
          runs += 1;
          expectAgreement(experiment);
        }
      }),
      { numRuns: 50 },
      () => runs > 500,
    );
  });

  it.each(scales)('agree on batteries that run down: sleeps from $leastMs ms', (scale) => {
    const seen = { flat: 0, sound: 0, again: 0 };
    assertUntil(
      fc.property(
        experiments(scale, 20).chain((drawn) => onCharge(drawn, scale, chargePlansOfCells(scale))),
        (drawn) => {
          for (const experiment of drawn) {
            const { flat, tally } = expectAgreement(experiment);
            seen[flat.length > 0 ? 'flat' : 'sound'] += 1;
            if (flat.length > 0 && tally.wakes['power-on'] > 1) seen.again += 1;
          }
        },
      ),
      { numRuns: 30 },
      () => Math.min(seen.flat, seen.sound, seen.again) > 50,
    );
  });
});
