// Common practice, no source: a check every three minutes, and an alert on the second one that reads open.
import { describe, expect, it } from 'vitest';
import { phases, sweep } from './sweep.js';

const periodMs = 180_400;

describe('3-minute checks with an alert on the second open one', () => {
  it('report after 3 to 6 minutes plus boot and connect, for every phase', () => {
    const fromMs = 1_000_000;
    const [bootMs, connectMs] = [400, 4_000];
    // The opening meets a check at a phase of its own: around that one each millisecond, elsewhere a coarser step.
    const meetsMs = (fromMs - bootMs) % periodMs;
    const around = Array.from({ length: 21 }, (_, index) => meetsMs - 10 + index);
    const traces = sweep({
      openings: [[fromMs, Number.POSITIVE_INFINITY]],
      lengthMs: 2_000_000,
      phasesMs: [...phases(periodMs, 97), ...around],
    });
    let [least, most] = [Number.POSITIVE_INFINITY, 0];
    for (const { alerts } of traces) {
      const delayMs = (alerts[0]?.deliveredMs ?? Number.POSITIVE_INFINITY) - fromMs;
      least = Math.min(least, delayMs);
      most = Math.max(most, delayMs);
    }
    expect(least).toBe(180_000 + bootMs + connectMs);
    expect(most).toBe(2 * (180_000 + bootMs) + connectMs - 1);
  });
});
