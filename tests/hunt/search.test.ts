// The hunt from question to counterexample.
import { describe, expect, it } from 'vitest';
import { breachOf, hunt } from '../../src/hunt/index.js';
import { holeyWatch, huntQuestion, sureWatch } from '../support/watch-question.js';

const minuteMs = 60_000;

describe('a hunt', () => {
  it('finds nothing where a leave-open cannot be missed', () => {
    expect(hunt(huntQuestion(sureWatch), { seed: 1, runs: 500 })).toMatchObject({
      runs: 500,
      found: null,
    });
  });

  it.each([1, 2, 3, -7, 2 ** 31 - 1])(
    'finds the hole of a watch without rechecks, with seed %i, and makes it small and round',
    (seed) => {
      const { found, runs } = hunt(huntQuestion(holeyWatch), { seed, runs: 200 });
      expect(runs).toBeLessThan(100);
      expect(found?.breach.property).toBe('reported');
      expect(found?.breach.subject).toEqual({ kind: 'opening', index: 0 });
      expect(found?.trial).toMatchObject({
        lengthMs: 10 * minuteMs,
        openings: [[minuteMs, 4 * minuteMs]],
        networkDown: [],
        powerLost: [],
        resets: [],
        contactFaults: [],
      });
    },
  );

  it('gives the same for the same seed, and for a path alone', () => {
    const question = huntQuestion(sureWatch, { with: ['outages'] });
    const first = hunt(question, { seed: 5, runs: 500 });
    expect(first.found).not.toBeNull();
    expect(hunt(question, { seed: 5, runs: 500 })).toEqual(first);
    const path = first.found?.path;
    expect(hunt(question, { seed: 5, runs: 500, path }).found).toEqual(first.found);
  });

  it('keeps a fault in the counterexample only where it is needed', () => {
    const all = ['outages', 'power', 'resets', 'chatter'] as const;
    const holey = hunt(huntQuestion(holeyWatch, { with: all }), { seed: 1, runs: 100 });
    expect(holey.found?.trial).toMatchObject({
      networkDown: [],
      powerLost: [],
      resets: [],
      contactFaults: [],
    });
    const sure = hunt(huntQuestion(sureWatch, { with: ['outages'] }), { seed: 1, runs: 500 });
    expect(sure.found?.trial.networkDown).toHaveLength(1);
  });

  it('never makes a timeline longer than those that it looked through', () => {
    // Too short for the least round length, 10 min, and just long enough for the report to be due.
    const lengthMs = 500_000;
    const { found } = hunt(huntQuestion(holeyWatch, { lengthMs }), { seed: 1, runs: 300 });
    expect(found?.trial.lengthMs).toBe(lengthMs);
  });

  it('writes out one by one what it drew from ranges', () => {
    const drifting = `watch: { checkInterval: 3m, recheckInterval: 20s, escalationThreshold: 2, alertCooldown: 0s }
device: { connectTime: { min: 1s, max: 9s }, clockError: { min: -5%, max: 5% } }
judge: { leaveOpenAfter: 3m22s }
`;
    // Sure from 3 min 20.8 s on a true clock: only sleeps that last too long can miss it.
    const question = huntQuestion(drifting);
    const { found } = hunt(question, { seed: 1, runs: 1_000 });
    expect(found).not.toBeNull();
    if (found === null) return;
    const { connectTime, clockError } = found.trial.timing;
    expect(connectTime.kind).toBe('fixed');
    const errors: readonly number[] =
      clockError.kind === 'fixed'
        ? [clockError.ppm]
        : clockError.kind === 'inTurn'
          ? clockError.ppm
          : [];
    expect(Math.max(...errors)).toBeGreaterThan(0);
    expect(Math.max(...errors)).toBeLessThanOrEqual(50_000);
    expect(breachOf(question, found.trial)).toEqual(found.breach);
  });
});
