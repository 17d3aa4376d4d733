// The kernel (table, jumps over equal wakes) against the naive interpreter, over random watches and worlds.
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { simulate } from '../../src/sim/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { interpret } from '../support/oracle.js';
import { expectSame } from '../support/same.js';
import { assertUntil } from '../support/until-seen.js';

describe('the kernel and the naive interpreter', () => {
  it.each(scales)('agree on all wakes, alerts and totals: sleeps from $leastMs ms', (scale) => {
    let runs = 0;
    assertUntil(
      fc.property(experiments(scale, 40), (drawn) => {
        for (const experiment of drawn) {
          runs += 1;
          const wanted = interpret(experiment);
          const trace = simulate(experiment);
          const { clockErrorPpm } = trace.tally;
          expectSame(trace.alerts, wanted.alerts);
          expectSame(expandWakes(trace), wanted.wakes);
          expectSame(trace.tally, { ...wanted.tally, clockErrorPpm });
          // Unrecorded runs take longer jumps.
          expectSame(simulate(experiment, { record: 'none' }), { ...trace, wakes: [] });
        }
      }),
      { numRuns: 50 },
      () => runs > 500,
    );
  });
});
