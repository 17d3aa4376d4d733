// A picture of years looks at a few hundred wakes: a run that recorded those alone gives the same picture.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { itemAt } from '../../src/base/index.js';
import { timelineChart, wakesToRecord } from '../../src/chart/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { asked } from '../support/experiments.js';
import { onCharge } from '../support/supply-arbitraries.js';
import { chartCase, dayMs } from './drawn.js';

const days = { ...itemAt(scales, 2), lengthMs: 3 * dayMs };

const charged = (drawn: readonly Experiment[]) => onCharge(drawn, days);

it('of days draws the same from all wakes and from those that it looks at', () => {
  let fewer = 0;
  fc.assert(
    fc.property(experiments(days, 2).chain(charged), fc.nat(8), (some, closeUps) => {
      for (const experiment of some) {
        const whole = chartCase(experiment, { judge: asked({ leaveOpenAfterMs: 600_000 }) });
        const options = { closeUps };
        const bare = simulate(experiment, { record: 'none' });
        const record = wakesToRecord({ ...whole, trace: bare, options });
        const trace = simulate(experiment, { record });
        if (trace.wakes.length < whole.trace.wakes.length) fewer += 1;
        expect(timelineChart({ ...whole, trace, options })).toBe(
          timelineChart({ ...whole, options }),
        );
      }
    }),
    { numRuns: 20 },
  );
  expect(fewer).toBeGreaterThan(0);
});
