// The plain timer-woken watch has bounds that can be worked out on paper: P = check interval + boot, S = recheck
// interval + boot, N open checks: sure from P + (N−1)·S, quiet up to (N−1)·S.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { boundsOf, detectionBounds } from '../../src/bounds/index.js';
import { rangesWith } from '../support/experiments.js';
import { questionOf } from './question.js';

describe('the bounds of a plain watch', () => {
  it('are those of the closed form', () => {
    const settings = fc.record({
      checkMs: fc.integer({ min: 1_000, max: 600_000 }),
      recheckMs: fc.integer({ min: 1_000, max: 600_000 }),
      open: fc.integer({ min: 1, max: 4 }),
      bootMs: fc.integer({ min: 0, max: 2_000 }),
      connectMs: fc.integer({ min: 1, max: 9_000 }),
    });
    fc.assert(
      fc.property(settings, ({ checkMs, recheckMs, open, bootMs, connectMs }) => {
        const bounds = detectionBounds(
          questionOf(
            {
              checkIntervalMs: deviceMs(checkMs),
              recheckIntervalMs: deviceMs(recheckMs),
              escalationThreshold: { open, outOf: open },
            },
            { timing: rangesWith({ bootMs, connectMs }) },
          ),
        );
        const quietMs = (open - 1) * (recheckMs + bootMs);
        const sureMs = checkMs + bootMs + quietMs;
        expect(bounds.alwaysReportedFromMs.atRest).toBe(sureMs);
        expect(bounds.neverAlarmedUpToMs).toBe(quietMs);
        expect(bounds.worstDelayMs.atRest).toBe(sureMs + connectMs - 1);
        expect(bounds.bestDelayMs).toBe(quietMs + connectMs);
      }),
      { numRuns: 60 },
    );
  });

  it('put the alert of a 3-minute, two-check watch between 3 and 6 minutes (common practice, no source)', () => {
    const bounds = detectionBounds(questionOf({}));
    const besidesMs = 2 * 400 + 4_000;
    expect(bounds.bestDelayMs).toBeGreaterThanOrEqual(180_000);
    expect(bounds.worstDelayMs.atRest).toBeLessThanOrEqual(360_000 + besidesMs);
  });
});

describe('the detection curve', () => {
  // Elementary geometry: a check every T at a uniform phase sees an opening of length d with probability min(1, d/T),
  // and at least m checks with clamp((d − (m−1)T)/T, 0, 1). Worked.
  it.each([1, 2, 3])('rises from (m−1)T to mT for m = %i', (open) => {
    const periodMs = 180_400;
    const { detectionCurve } = boundsOf(questionOf({ escalationThreshold: { open, outOf: open } }));
    expect(detectionCurve).toEqual([
      [(open - 1) * periodMs, 0],
      [open * periodMs, 1],
    ]);
  });
});

describe('aliasing', () => {
  it('needs as many brief openings as open checks where one cannot cover two', () => {
    const { aliasing } = boundsOf(questionOf({ escalationThreshold: { open: 3, outOf: 3 } }));
    expect(aliasing?.openings).toBe(3);
  });

  // A heartbeat makes one gap between checks longer, which no brief opening can use; the next gaps are as they were. Worked.
  it('needs as many with heartbeats', () => {
    const beating = { heartbeats: true, heartbeatIntervalMs: deviceMs(1_200_000) };
    expect(boundsOf(questionOf(beating)).aliasing?.openings).toBe(2);
  });

  it('needs just one where rechecks are quick', () => {
    const { aliasing } = boundsOf(questionOf({ recheckIntervalMs: deviceMs(20_000) }));
    expect(aliasing?.openings).toBe(1);
  });
});
