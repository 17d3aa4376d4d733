// Binary integration in radar (Richards, Fundamentals of Radar Signal Processing): of n looks, each positive with
// probability p, at least m are with P = Σ C(n, k) p^k (1 − p)^(n − k). Worked: 2 of 4 at 0.8 gives 0.9728, 2 of 3
// at 0.9 gives 0.972; 2 of 4 beats a single look for p above 0.232408.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import { withFaults } from '../../src/world/index.js';
import { experimentOf, timingWith } from '../support/experiments.js';
import { range } from '../support/range.js';

const checkPeriodMs = 180_400;
const bootMs = 400;

/** A run of just n checks, with a contact for them. */
function alerts(
  threshold: { readonly open: number; readonly outOf: number },
  contact: Float64Array,
): boolean {
  // Shut checks must not clear what was counted: the looks are independent.
  const watch = { escalationThreshold: threshold, clearThreshold: threshold.outOf + 1 };
  const lengthMs = bootMs + (threshold.outOf - 1) * checkPeriodMs + 1;
  const { alerts: decided, tally } = simulate(
    // A send takes no time here, so that each check stays in its own slot.
    experimentOf({ lengthMs, contact }, { watch, timing: timingWith({ bootMs, connectMs: 0 }) }),
  );
  expect(tally.checks).toBe(threshold.outOf);
  return decided.length > 0;
}

/** The probability of an alert, exactly: by running all 2^n patterns of readings with their weights. */
function byEnumeration(
  threshold: { readonly open: number; readonly outOf: number },
  p: number,
): number {
  let total = 0;
  for (const pattern of range(0, 2 ** threshold.outOf)) {
    const reads = range(0, threshold.outOf).map((look) => (pattern >> look) % 2 === 1);
    const edges = reads.flatMap((open, look) =>
      open === (reads[look - 1] ?? false) ? [] : look * checkPeriodMs,
    );
    const open = reads.filter(Boolean).length;
    const weight = p ** open * (1 - p) ** (threshold.outOf - open);
    if (alerts(threshold, Float64Array.from(edges))) total += weight;
  }
  return total;
}

describe('m of n by running every pattern of readings', () => {
  it.each([
    [{ open: 2, outOf: 4 }, 0.8, 0.9728],
    [{ open: 2, outOf: 3 }, 0.9, 0.972],
    [{ open: 1, outOf: 3 }, 0.5, 0.875],
    [{ open: 4, outOf: 4 }, 0.5, 0.0625],
  ])('%j at %f is the binomial tail, %f', (threshold, p, wanted) => {
    expect(byEnumeration(threshold, p)).toBeCloseTo(wanted, 12);
  });

  it('2 of 4 beats one look above p = 0.232408 and not below', () => {
    const gain = (p: number) => byEnumeration({ open: 2, outOf: 4 }, p) - p;
    expect(gain(0.232409)).toBeGreaterThan(0);
    expect(gain(0.232407)).toBeLessThan(0);
  });
});

describe('m of n with a contact that reads open at random', () => {
  it('2 of 4 at 0.8: within five standard errors of 0.9728 over 4,000 fixed seeds', () => {
    const runs = 4_000;
    const fault = {
      fromMs: trueMs(0),
      toMs: trueMs(4 * checkPeriodMs),
      // One draw a check: the slot is as long as the way from check to check.
      reads: { kind: 'chattering' as const, openShare: 0.8, slotMs: trueMs(checkPeriodMs) },
    };
    const positive = range(0, runs).filter((run) =>
      alerts({ open: 2, outOf: 4 }, withFaults(new Float64Array(0), [fault], `run ${run}`)),
    ).length;
    const standardError = Math.sqrt((0.9728 * (1 - 0.9728)) / runs);
    expect(Math.abs(positive / runs - 0.9728)).toBeLessThan(5 * standardError);
  });
});
