// The low-battery message in proofs: it may be raised at any check, and again `repeat` after a delivery. It lengthens a wake by
// one connection, and each bound is shown by a run in which the battery counts as low at just that check.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { boundsOf } from '../../src/bounds/index.js';
import { certificateOf, verdictOn } from '../verify/certificates.js';
import { questionOf } from './question.js';

const day = deviceMs(86_400_000);
const lowBattery = { level: { kind: 'share', sharePpm: 200_000 }, repeatMs: day } as const;
const every2min = { checkIntervalMs: deviceMs(120_000), recheckIntervalMs: deviceMs(120_000) };

describe('a low-battery message, checks every 2 min, boot 400 ms, connect 4 s', () => {
  const bounds = boundsOf(questionOf({ ...every2min, lowBattery }));

  it('makes the device sure 4 s later, and changes nothing of the soonest alert', () => {
    expect(bounds.alwaysReportedFromMs.atRest).toBe(244_800);
    expect(bounds.worstDelayMs.atRest).toBe(248_799);
    expect(bounds.neverAlarmedUpToMs).toBe(120_400);
    expect(bounds.bestDelayMs).toBe(124_400);
  });

  it('is raised in the runs that show it', () => {
    expect(bounds.safeLimits).toEqual([]);
    const worst = bounds.witnesses.find(({ bound }) => bound === 'worstDelayMs.atRest');
    expect(worst?.deliveredAfterMs).toBe(248_799);
    expect(worst?.experiment.world.batteryLow?.fromMs.length).toBe(1);
  });
});

describe('a certificate with a low-battery message', () => {
  it.each([
    ['nothing goes wrong', {}],
    ['an outage in which it is tried again at each check', { longestOutageMs: 300_000 }],
    ['a reset that clears, after which it may come again', { resets: 1 }],
  ])('agrees with the search, and is accepted: %s', (_, environment) => {
    const question = questionOf({ ...every2min, lowBattery }, { environment });
    const verdict = verdictOn(certificateOf(question), question);
    expect(verdict).toMatchObject({ kind: 'verified' });
  });
});
