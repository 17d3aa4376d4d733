// The compiled table, jumped through by the kernel, against the statechart it was compiled from: an XState actor
// stepped wake by wake on XState's simulated clock.
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { simulate } from '../../src/sim/index.js';
import { runActor } from '../support/actor-runner.js';
import { experiments, scales } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { expectSame } from '../support/same.js';
import { assertUntil } from '../support/until-seen.js';

describe('the table and an XState actor', () => {
  it.each(scales)(
    'give the same decisions, sleeps and alerts: sleeps from $leastMs ms',
    (scale) => {
      let runs = 0;
      assertUntil(
        fc.property(experiments(scale, 40), (drawn) => {
          for (const experiment of drawn) {
            runs += 1;
            const wanted = runActor(experiment);
            const trace = simulate(experiment);
            const wakes = expandWakes(trace).map(({ decision: _, escalated: __, ...wake }) => wake);
            expectSame(trace.alerts, wanted.alerts);
            expectSame(wakes, wanted.wakes);
            expectSame(trace.tally.checks, wanted.checks);
          }
        }),
        { numRuns: 25 },
        () => runs > 250,
      );
    },
  );
});
