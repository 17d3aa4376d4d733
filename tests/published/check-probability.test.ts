// Elementary geometry, worked: a check every T at a uniform phase sees an opening of length d with probability
// min(1, d / T); m checks see it with clamp((d − (m − 1) T) / T, 0, 1), and the m-th comes uniformly in a span of T.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { timingWith } from '../support/experiments.js';
import { range } from '../support/range.js';
import { phases, sweep } from './sweep.js';

interface Question {
  readonly checks: number;
  readonly periodMs: number;
  readonly openForMs: number;
  readonly stepMs: number;
}

/** For each phase of a watch with this many open checks: after how long it decides, or null. */
function decisions({ checks, periodMs, openForMs, stepMs }: Question): (number | null)[] {
  const bootMs = 400;
  const interval = deviceMs(periodMs - bootMs);
  const fromMs = 2 * periodMs;
  const traces = sweep({
    openings: [[fromMs, fromMs + openForMs]],
    lengthMs: fromMs + openForMs + 2 * periodMs,
    phasesMs: phases(periodMs, stepMs),
    watch: {
      checkIntervalMs: interval,
      recheckIntervalMs: interval,
      escalationThreshold: { open: checks, outOf: checks },
    },
    timing: timingWith({ bootMs }),
  });
  return Array.from(traces, ({ alerts }) => {
    const [alert] = alerts;
    return alert === undefined ? null : alert.decidedMs - fromMs;
  });
}

function clamp(value: number): number {
  return Math.min(1, Math.max(0, value));
}

describe('the share of phases at which a door is seen', () => {
  const periodMs = 3_000;

  it.each([1, 10, 1_499, 2_999, 3_000, 3_001, 9_000])(
    'by a check every 3 s is min(1, d / T), exactly, for d = %i ms',
    (openForMs) => {
      const seen = decisions({ checks: 1, periodMs, openForMs, stepMs: 1 });
      expect(seen).toHaveLength(periodMs);
      expect(seen.filter((ms) => ms !== null)).toHaveLength(Math.min(periodMs, openForMs));
    },
  );

  it.each(
    [2, 3, 4].flatMap((checks) =>
      [0, 1, 700, 2_999, 3_000, 3_001].map(
        (more) => [checks, (checks - 1) * periodMs + more] as const,
      ),
    ),
  )('by %i checks is clamp((d − (m − 1) T) / T), exactly, for d = %i ms', (checks, openForMs) => {
    const seen = decisions({ checks, periodMs, openForMs, stepMs: 1 });
    const share = clamp((openForMs - (checks - 1) * periodMs) / periodMs);
    expect(seen.filter((ms) => ms !== null)).toHaveLength(Math.round(share * periodMs));
  });

  it.each([
    [299_000, 0],
    [300_000, 0],
    [450_000, 0.5],
    [599_000, 299 / 300],
    [600_000, 1],
    [601_000, 1],
  ])('by two checks every 300 s, for d = %i ms, is %f', (openForMs, share) => {
    const seen = decisions({ checks: 2, periodMs: 300_000, openForMs, stepMs: 100 });
    expect(seen.filter((ms) => ms !== null).length / seen.length).toBe(share);
  });
});

describe('the delay of the m-th check', () => {
  it.each([1, 2, 3])('is each millisecond from (m − 1) T up to m T just once, m = %i', (checks) => {
    // The first instant of an opening counts as open and the check may fall right there: the span is [(m − 1) T, m T).
    const periodMs = 3_000;
    const delays = decisions({ checks, periodMs, openForMs: 4 * periodMs, stepMs: 1 });
    const sorted = delays.map((ms) => ms ?? Number.NaN).toSorted((a, b) => a - b);
    expect(sorted).toEqual(range((checks - 1) * periodMs, checks * periodMs));
  });
});
