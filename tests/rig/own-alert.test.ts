// Which alert of a firmware is shown where their number is against an expectation: one that the machine of the watch file does not decide.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { ownAlert } from '../../src/cli/rig/memory.js';
import type { Trace } from '../../src/sim/index.js';
import { experimentOf, traceOf } from '../support/experiments.js';

const hourMs = 3_600_000;
const world = { lengthMs: 24 * hourMs, openings: [[hourMs, 23 * hourMs]] as const };
const trace = traceOf(world);
const { alerts } = trace;
const repeats = (all: Trace['alerts']): readonly number[] => [...all.keys()].slice(1);
const shown = (all: Trace['alerts']): number | null =>
  ownAlert(experimentOf(world), { trace: { ...trace, alerts: all } }, repeats(all));

describe('of many alerts', () => {
  it('the one too many is shown, wherever it comes', () => {
    expect(alerts.length).toBeGreaterThan(20);
    for (const at of [2, 11, alerts.length - 1]) {
      const before = alerts[at - 1];
      if (before === undefined) throw new Error('no such alert');
      const tooMany = { ...before, decidedMs: trueMs(before.decidedMs + 300_000) };
      const all = [...alerts.slice(0, at), tooMany, ...alerts.slice(at)];
      expect(shown(all)).toBe(at);
    }
  });

  it('none is shown where one is lacking, and the first where none is otherwise', () => {
    expect(shown(alerts.filter((_, index) => index !== 9))).toBe(null);
    expect(shown(alerts)).toBe(1);
  });
});
