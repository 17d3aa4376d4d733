// The kernel (table, jumps over equal wakes) against the naive interpreter, over random watches and worlds.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileTable, type LogicSettings, watchLogic } from '../../src/machine/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import {
  deviceTimings,
  logicSettings,
  type Scale,
  scales,
  watchSettings,
  worlds,
} from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { interpret } from '../support/oracle.js';

const worldsAWatch = 40;

/** Several experiments a watch: compiling its table costs more than running it. */
function experiments(logic: LogicSettings, scale: Scale): fc.Arbitrary<readonly Experiment[]> {
  const table = compileTable(watchLogic(logic));
  const experiment = fc
    .tuple(watchSettings(logic, scale), deviceTimings(scale), fc.constantFrom('a', 'b'))
    .chain(([watch, timing, seed]) =>
      worlds(watch, timing, scale).map((world) => ({
        program: { watch, table },
        timing,
        world,
        seed,
      })),
    );
  return fc.array(experiment, { minLength: 1, maxLength: worldsAWatch, size: 'max' });
}

describe('the kernel and the naive interpreter', () => {
  it.each(scales)(
    'agree on every wake, alert and total with sleeps of $leastMs ms and up',
    (scale) => {
      let runs = 0;
      fc.assert(
        fc.property(
          logicSettings.chain((logic) => experiments(logic, scale)),
          (drawn) => {
            for (const experiment of drawn) {
              const wanted = interpret(experiment);
              const trace = simulate(experiment);
              const { clockErrorPpm: _, ...tally } = trace.tally;
              expect(trace.alerts).toEqual(wanted.alerts);
              expect(expandWakes(trace)).toEqual(wanted.wakes);
              expect(tally).toEqual(wanted.tally);
              runs += 1;
            }
          },
        ),
        { numRuns: 60 },
      );
      expect(runs).toBeGreaterThan(1_000);
    },
  );
});
