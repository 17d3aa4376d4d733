// Every number comes with a run that shows it: random watches and environments, each witness simulated again.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsOf, type Witness } from '../../src/bounds/index.js';
import type { TimingRanges } from '../../src/model/index.js';
import {
  logicSettings,
  type Scale,
  watchSettings,
  withoutLowBattery,
} from '../support/arbitraries.js';
import { rangesWith } from '../support/experiments.js';
import { questionOf } from './question.js';

function range(mostMs: number): fc.Arbitrary<readonly [number, number]> {
  return fc
    .tuple(fc.nat(mostMs), fc.nat(300), fc.boolean())
    .map(([ms, more, ranged]) => [ms, ranged ? ms + more : ms]);
}

const timings: fc.Arbitrary<TimingRanges> = fc
  .record({
    bootMs: range(500),
    connectMs: range(1_500),
    errorPpm: fc.constantFrom(0, 23_000, [-20_000, 20_000] as const),
  })
  .map(rangesWith);

const environments = fc.record({
  outages: fc.constantFrom(1, 2, 3),
  outagesApartMs: fc.constantFrom(0, 2_500),
  longestOutageMs: fc.constantFrom(0, 0, 4_000),
  powerLosses: fc.constantFrom(0, 0, 1),
  longestPowerLossMs: fc.integer({ min: 1, max: 2_000 }),
  resets: fc.constantFrom(0, 0, 1),
});

const scale: Scale = {
  leastMs: 500,
  mostMs: 4_000,
  mostBootMs: 500,
  mostConnectMs: 1_500,
  lengthMs: 90_000,
  errorPpm: 20_000,
};

const watches = logicSettings.chain((logic) => watchSettings(withoutLowBattery(logic), scale));

/** Of the opening that a witness is about. */
function lengthOf({ experiment, opening }: Witness): number {
  const { fromMs, toMs } = experiment.world.openings;
  return (toMs[opening] ?? 0) - (fromMs[opening] ?? 0);
}

describe('every witness', () => {
  it('shows its bound to the millisecond', () => {
    fc.assert(
      fc.property(watches, timings, environments, (watch, timing, environment) => {
        const bounds = boundsOf(
          questionOf(watch, { timing, environment, leaveOpenAfterMs: 1_000_000_000 }),
        );
        for (const witness of bounds.witnesses) {
          const { bound, decidedAfterMs, deliveredAfterMs } = witness;
          if (bound === 'worstDelayMs.atRest')
            expect(deliveredAfterMs).toBe(bounds.worstDelayMs.atRest);
          if (bound === 'worstDelayMs.anyState')
            expect(deliveredAfterMs).toBe(bounds.worstDelayMs.anyState);
          if (bound === 'bestDelayMs') expect(deliveredAfterMs).toBe(bounds.bestDelayMs);
          if (bound === 'neverAlarmedUpToMs')
            expect(decidedAfterMs).toBe(bounds.neverAlarmedUpToMs);
          const from = bound.endsWith('.atRest') ? 'atRest' : 'anyState';
          if (bound.startsWith('alwaysReportedFromMs')) {
            expect(deliveredAfterMs).toBeNull();
            expect(lengthOf(witness) + 1).toBe(bounds.alwaysReportedFromMs[from]);
          }
          if (bound.startsWith('alwaysDecidedFromMs')) {
            expect(decidedAfterMs).toBeNull();
            expect(lengthOf(witness) + 1).toBe(bounds.alwaysDecidedFromMs[from]);
          }
        }
      }),
      { numRuns: 15 },
    );
  });
});
