// Every number comes with a run that shows it: random watches and environments, each witness simulated anew.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ppm, trueMs } from '../../src/base/index.js';
import { boundsOf } from '../../src/bounds/index.js';
import type { DeviceTiming, VaryingMs } from '../../src/world/index.js';
import { logicSettings, type Scale, watchSettings } from '../support/arbitraries.js';
import { questionOf } from './question.js';

function varying(mostMs: number): fc.Arbitrary<VaryingMs> {
  return fc
    .tuple(fc.nat(mostMs), fc.nat(300), fc.boolean())
    .map(([ms, more, ranged]) =>
      ranged && more > 0
        ? { kind: 'range', leastMs: trueMs(ms), greatestMs: trueMs(ms + more) }
        : { kind: 'fixed', ms: trueMs(ms) },
    );
}

const timings: fc.Arbitrary<DeviceTiming> = fc.record({
  bootTime: varying(500),
  connectTime: varying(1_500),
  clockError: fc.constantFrom(
    { kind: 'fixed' as const, ppm: ppm(0) },
    { kind: 'fixed' as const, ppm: ppm(23_000) },
    { kind: 'drawn' as const, leastPpm: ppm(-20_000), greatestPpm: ppm(20_000) },
  ),
});

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

const watches = logicSettings.chain((logic) => watchSettings(logic, scale));

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
          if (bound.startsWith('alwaysReportedFromMs')) expect(decidedAfterMs).toBeNull();
        }
      }),
      { numRuns: 15 },
    );
  });
});
