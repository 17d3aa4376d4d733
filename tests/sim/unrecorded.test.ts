// A run that records nothing takes the longest jumps: over openings that no check sees, with a clock that counts each sleep as
// shorter or longer than it is. Its alerts and totals are those of the run that is written down wake by wake.
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { experiments, type Scale, scales, someLogics } from '../support/arbitraries.js';
import { expectSame } from '../support/same.js';

/** With equal boots, one clock error far from zero, a heartbeat now and then and a cooldown that lasts. */
function jumping({ program, timing, ...rest }: Experiment, scale: Scale): Experiment {
  const { watch, table } = program;
  const everyMs = deviceMs(7 * scale.mostMs + 1);
  return {
    ...rest,
    program: {
      table,
      watch: {
        ...watch,
        wakeOn: 'timer',
        alertCooldownMs: everyMs,
        heartbeatIntervalMs: watch.heartbeats ? everyMs : null,
      },
    },
    timing: {
      ...timing,
      bootTime: { kind: 'fixed', ms: trueMs(1) },
      clockError: {
        kind: 'drawn',
        leastPpm: ppm(scale.errorPpm / 2),
        greatestPpm: ppm(scale.errorPpm),
      },
    },
  };
}

describe('a run that is not recorded', () => {
  it.each(scales)('is the same as one that is: sleeps from $leastMs ms', (scale) => {
    fc.assert(
      fc.property(experiments(scale, 20, someLogics), (drawn) => {
        for (const one of drawn) {
          const experiment = jumping(one, scale);
          const trace = simulate(experiment);
          expectSame(simulate(experiment, { record: 'none' }), { ...trace, wakes: [] });
        }
      }),
      { numRuns: 10 },
    );
  });
});
