// How many years a comparison of a profile with its log affords, and what its figures say of their own doubt.
import { expect, it } from 'vitest';
import { agreementAt } from '../../src/estimate/index.js';
import { yearWorlds } from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { deviceTiming, spansOf } from '../../src/world/index.js';
import { watchFileOf } from '../support/watch-question.js';
import { steadyUse } from './drawn-years.js';

it('as many years are simulated as their own openings afford, and the range of a figure holds it', () => {
  const { timing, watch, judge } = watchFileOf('judge: { leaveOpenAfter: 3m }\n');
  // Visits of an hour, ten an hour: nearly all begin during another, and are part of it.
  const rate = steadyUse(240, 3_600_000);
  const worlds = yearWorlds({ profile: rate, contact: null, outages: null, powerCuts: null });
  const perYear = worlds('agreement', 0).openings.fromMs.length;
  expect(perYear).toBeLessThan((240 * 365) / 4);
  const years = new Set<number>();
  const { falseAlarms } = agreementAt(
    {
      program: compileWatch(watch),
      timing: deviceTiming({}, timing),
      judge,
      openings: spansOf([[0, 60_000]]),
      lengthMs: 2 * 86_400_000,
      worldOf: (year) => {
        years.add(year);
        return worlds('agreement', year);
      },
    },
    60_000,
    timing.bootTime.least,
  );
  expect(years.size).toBe(Math.floor(200_000 / perYear));
  const { drawn, drawnRange } = falseAlarms;
  expect(drawnRange.low).toBeLessThanOrEqual(drawn);
  expect(drawnRange.high).toBeGreaterThan(drawn);
});
