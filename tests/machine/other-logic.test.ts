// Other machines behind the seam: the watch's own statechart as one of them, and machines that cannot be.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assign, createMachine } from 'xstate';
import { automatonOf } from '../../src/emit/index.js';
import { otherTable, watchMachine } from '../../src/machine/index.js';
import { logicSettings } from '../support/arbitraries.js';
import { plainWatch, programOf, watchWith } from '../support/experiments.js';

/** What a program does, whatever its states are called. */
function behaviourOf(program: Parameters<typeof automatonOf>[0]) {
  return automatonOf(program).states.map(({ phase, reactions }) => ({ phase, reactions }));
}

const asleep = { on: { 'wake.timer': 'awake', 'wake.contact': 'awake' } } as const;
const check = { type: 'sleep', params: { interval: 'check' } } as const;

/** A machine that never alerts, with what a case changes. */
function machineWith(parts: {
  readonly check?: object;
  readonly wake?: object;
  readonly context?: object;
}) {
  return createMachine({
    context: parts.context ?? {},
    initial: 'off',
    on: { powerLost: '.off', 'wake.reset': { target: '.awake', ...parts.wake } },
    states: {
      off: { on: { 'wake.power-on': { target: 'awake', ...parts.wake } } },
      awake: { on: { check: { target: 'asleep', actions: check, ...parts.check } } },
      asleep,
    },
  });
}

describe('a machine from outside', () => {
  it('that is the watch itself decides like the watch, with any settings', () => {
    fc.assert(
      fc.property(logicSettings, (logic) => {
        const program = programOf(
          watchWith({ ...logic, heartbeatIntervalMs: plainWatch.heartbeatIntervalMs }),
        );
        const other = { ...program, table: otherTable(watchMachine, logic) };
        expect(behaviourOf(other)).toEqual(behaviourOf(program));
      }),
      { numRuns: 6 },
    );
  });

  it('may do little', () => {
    const { phases } = otherTable(machineWith({}), plainWatch);
    expect(phases).toEqual(['off', 'awake', 'asleep']);
  });

  it.each<[string, Parameters<typeof machineWith>[0]]>([
    [
      'this machine comes to ever new states',
      {
        context: { count: 0 },
        check: {
          actions: [
            check,
            assign({ count: ({ context }: { context: { count: number } }) => context.count + 1 }),
          ],
        },
      },
    ],
    ['the context of this machine is not plain data', { context: { seen: new Map() } }],
    ['this machine has an action of its own', { check: { actions: [check, () => undefined] } }],
    ['this machine leaves a wake without an end', { check: { actions: [] } }],
    ['this machine ends a wake twice', { check: { actions: [check, 'hold'] } }],
    ['this machine does blink twice at once', { check: { actions: ['blink', 'blink', check] } }],
    ['this machine does blink when it cannot be done', { wake: { actions: 'blink' } }],
    [
      'this machine sleeps no interval of the watch',
      { check: { actions: { type: 'sleep', params: { interval: 'night' } } } },
    ],
    ['this machine sends an alert that it has not decided', { check: { actions: 'attemptAlert' } }],
    [
      'this machine decides an alert and does not send it',
      { check: { actions: ['decideAlert', check] } },
    ],
    [
      'this machine drops an alert that it has not decided',
      { check: { actions: ['dropAlert', check] } },
    ],
    [
      'this machine does not always do the same',
      {
        context: { luck: 0 },
        check: { actions: [check, assign({ luck: () => Math.random() })] },
      },
    ],
  ])('is refused: %s', (what, parts) => {
    expect(() => otherTable(machineWith(parts), plainWatch)).toThrow(what);
  });

  it('is refused when it keeps time of its own, or comes to an end', () => {
    const waiting = createMachine({
      initial: 'off',
      states: { off: { after: { 10: 'on' } }, on: {} },
    });
    expect(() => otherTable(waiting, plainWatch)).toThrow('this machine has an action of its own');
    const ending = createMachine({
      initial: 'off',
      states: { off: { on: { 'wake.power-on': 'end' } }, end: { type: 'final' } },
    });
    expect(() => otherTable(ending, plainWatch)).toThrow('this machine comes to an end');
  });
});
