import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import {
  checkedExpectations,
  type Expectations,
  parseScenario,
  unmetExpectations,
} from '../../src/scenarios/index.js';
import type { Summary } from '../../src/verdict/index.js';
import { valueOf } from './reading.js';

const summary: Summary = {
  openings: 6,
  leaveOpens: 2,
  reported: 1,
  late: 0,
  missed: 1,
  undecided: 0,
  unpowered: 0,
  unknown: 0,
  alerts: 3,
  falseAlarms: 1,
  earlyAlerts: 0,
  repeats: 1,
  checks: 480,
  worstDelayMs: 364_800,
};

const nothing: Expectations = { counts: [], worstDelayAtMostMs: null, worstDelayAtLeastMs: null };
const wish = (text: string): Expectations => {
  const scenario = valueOf(parseScenario(`name: x\nexpect: ${text}`, 'x.yaml'));
  return scenario.expect ?? nothing;
};

describe('expectations', () => {
  it.each([
    '{ missed: 1, falseAlarms: 1, alerts: 3, checks: 480, openings: 6, leaveOpens: 2 }',
    '{ reported: 1, late: 0, undecided: 0, earlyAlerts: 0, repeats: 1 }',
    '{ missed: { atLeast: 1, atMost: 1 }, alerts: { atMost: 3 }, checks: { atLeast: 480 } }',
    '{ worstDelayAtMost: 364800ms, worstDelayAtLeast: 364800ms }',
    '{}',
    '',
  ])('are met: %s', (text) => {
    expect(unmetExpectations(wish(text), summary)).toEqual([]);
  });

  it.each([
    ['{ missed: 0 }', 'missed', 'exactly 0', '1'],
    ['{ alerts: { atLeast: 4 } }', 'alerts', 'at least 4', '3'],
    ['{ alerts: { atMost: 2 } }', 'alerts', 'at most 2', '3'],
    ['{ alerts: { atLeast: 4, atMost: 5 } }', 'alerts', 'from 4 to 5', '3'],
    ['{ worstDelayAtMost: 6m }', 'worstDelayAtMost', 'at most 6 min', '6 min 5 s'],
    ['{ worstDelayAtLeast: 7m }', 'worstDelayAtLeast', 'at least 7 min', '6 min 4 s'],
  ])('are unmet, with what was wanted and got: %s', (text, name, wanted, got) => {
    expect(unmetExpectations(wish(text), summary)).toEqual([{ name, wanted, got }]);
  });

  it('of the worst delay are unmet when nothing was reported though something should have been', () => {
    const silent = { ...summary, reported: 0, missed: 2, worstDelayMs: null };
    const idle = { ...silent, missed: 0, leaveOpens: 0 };
    const most = { ...nothing, worstDelayAtMostMs: trueMs(60_000) };
    const least = { ...nothing, worstDelayAtLeastMs: trueMs(0) };
    expect(unmetExpectations(most, silent)).toEqual([
      {
        name: 'worstDelayAtMost',
        wanted: 'at most 1 min',
        got: 'no latency: no leave-open was reported',
      },
    ]);
    expect(unmetExpectations(most, idle)).toEqual([]);
    expect(unmetExpectations(least, idle)).toHaveLength(1);
  });
});

it('compares every expectation in numbers, and meets them just when none is unmet', () => {
  const wished = wish(
    '{ missed: 0, alerts: { atLeast: 2, atMost: 4 }, repeats: { atMost: 1 }, worstDelayAtMost: 5m, worstDelayAtLeast: 1s }',
  );
  expect(checkedExpectations(wished, summary)).toEqual([
    { name: 'missed', wanted: 0, got: 1, met: false },
    { name: 'alertsAtLeast', wanted: 2, got: 3, met: true },
    { name: 'alertsAtMost', wanted: 4, got: 3, met: true },
    { name: 'repeatsAtMost', wanted: 1, got: 1, met: true },
    { name: 'worstDelayAtMost', wanted: 300_000, got: 364_800, met: false },
    { name: 'worstDelayAtLeast', wanted: 1_000, got: 364_800, met: true },
  ]);
});
