// What runs have visited of a watch: nothing, a calm day, a leave-open.
import { describe, expect, it } from 'vitest';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { type Coverage, coverageOf, noVisits, visit } from '../../src/coverage/index.js';
import { experimentOf, type WorldNumbers, watchWith } from '../support/experiments.js';

const minute = 60_000;
const hour = 60 * minute;

function covered(
  worlds: readonly WorldNumbers[],
  watch: Parameters<typeof watchWith>[0] = {},
): Coverage {
  const experiments = worlds.map((world): Experiment => experimentOf(world, { watch }));
  const program = (experiments[0] ?? experimentOf({ lengthMs: 1 }, { watch })).program;
  const visits = noVisits(program.table);
  for (const experiment of experiments) {
    visit(program.table, simulate({ ...experiment, program }), visits);
  }
  return coverageOf(program, visits);
}

function visited(
  items: readonly { readonly words: string; readonly visited: boolean }[],
): string[] {
  return items.filter((item) => item.visited).map(({ words }) => words);
}

describe('what runs visit', () => {
  it('is nothing without a run', () => {
    const { states, transitions } = covered([]);
    expect(states.length).toBeGreaterThan(20);
    expect(visited([...states, ...transitions])).toEqual([]);
  });

  it('is little on a calm day: power-on, and checks that read shut', () => {
    const { states, transitions } = covered([{ lengthMs: hour }]);
    expect(visited(states)).toEqual([
      'without power',
      'just woken; seen shut',
      'asleep; seen shut',
    ]);
    expect(visited(transitions)).toEqual([
      'without power | power comes on',
      'just woken; seen shut | reads shut: sleeps the check interval',
      'asleep; seen shut | the timer wakes it',
    ]);
  });

  it('follows a leave-open to its alert, and on through the cooldown', () => {
    const day: WorldNumbers = { lengthMs: hour, openings: [[10 * minute, 40 * minute]] };
    expect(visited(covered([day]).transitions)).toEqual(
      expect.arrayContaining([
        'just woken; seen shut | reads open: sleeps the recheck interval',
        'just woken; last checks open | reads open: decides an alert, sends it',
        'sending an alert; last checks open, open; an alert unsent | the alert is delivered: sleeps the check interval',
        'just woken; last checks open, open; alert sent | reads open, in the cooldown: sleeps the check interval',
      ]),
    );
  });

  it('adds up over runs, and knows resets and power losses as kinds of their own', () => {
    const cut: WorldNumbers = { lengthMs: hour, powerLost: [[10 * minute, 11 * minute]] };
    const reset: WorldNumbers = { lengthMs: hour, resetsMs: [10 * minute] };
    const { transitions } = covered([cut, reset]);
    const kinds = transitions.filter((item) => item.visited).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'power')).toHaveLength(1);
    expect(kinds.filter((kind) => kind === 'reset')).toHaveLength(1);
    expect(kinds.filter((kind) => kind === 'course')).toHaveLength(3);
  });

  it('counts no input that cannot come', () => {
    const { transitions } = covered([], { alertCooldownMs: watchWith({}).alertCooldownMs });
    expect(transitions.some(({ words }) => words.includes('the contact wakes it'))).toBe(false);
    expect(transitions.some(({ words }) => words.includes('heartbeat'))).toBe(false);
    const edges = covered([], { wakeOn: 'any-change' }).transitions;
    expect(edges.some(({ words }) => words.includes('the contact wakes it'))).toBe(true);
  });
});
