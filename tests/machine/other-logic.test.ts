// Other machines behind the seam: the watch's own statechart as one of them, and machines that cannot be.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AnyStateMachine, and, assign, createMachine, not, or, setup } from 'xstate';
import { automatonOf } from '../../src/emit/index.js';
import {
  type DeviceInput,
  isMachine,
  LogicFault,
  logicTools,
  otherLogic,
  otherTable,
  watchMachine,
} from '../../src/machine/index.js';
import { actionWords, strangeEvents } from '../../src/machine/other-refusals.js';
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
  readonly states?: object;
}) {
  return createMachine({
    context: parts.context ?? {},
    initial: 'off',
    on: { powerLost: '.off', 'wake.reset': { target: '.awake', ...parts.wake } },
    states: {
      off: { on: { 'wake.power-on': { target: 'awake', ...parts.wake } } },
      awake: { on: { check: { target: 'asleep', actions: check, ...parts.check } } },
      asleep,
      ...parts.states,
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

  it.each(['check', 'recheck', 'retry'])('may sleep the %s interval of the watch', (interval) => {
    const machine = machineWith({ check: { actions: { type: 'sleep', params: { interval } } } });
    expect(otherTable(machine, plainWatch).phases).toContain('asleep');
  });

  it('may do little', () => {
    const { phases } = otherTable(machineWith({}), plainWatch);
    expect(phases).toEqual(['off', 'awake', 'asleep']);
  });

  it.each<[string, Parameters<typeof machineWith>[0]]>([
    ['the context of this machine is not plain data', { context: { seen: new Map() } }],
    ['this machine has an unknown action', { check: { actions: [check, () => undefined] } }],
    ['this machine leaves a wake without an end', { check: { actions: [] } }],
    ['this machine ends a wake twice', { check: { actions: [check, 'hold'] } }],
    ['this machine does blink twice at once', { check: { actions: ['blink', 'blink', check] } }],
    ['this machine does blink when it cannot be done', { wake: { actions: 'blink' } }],
    [
      'this machine sleeps an unknown interval',
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
      'this machine is not deterministic',
      {
        context: { luck: 0 },
        check: { actions: [check, assign({ luck: () => Math.random() })] },
      },
    ],
  ])('is refused: %s', (what, parts) => {
    expect(() => otherTable(machineWith(parts), plainWatch)).toThrow(what);
  });

  it('is refused when it keeps time of its own, or ends', () => {
    const waiting = createMachine({
      initial: 'off',
      states: { off: { after: { 10: 'on' } }, on: {} },
    });
    expect(() => otherTable(waiting, plainWatch)).toThrow('this machine has a timer');
    const ending = createMachine({
      initial: 'off',
      states: { off: { on: { 'wake.power-on': 'end' } }, end: { type: 'final' } },
    });
    expect(() => otherTable(ending, plainWatch)).toThrow('this machine ends');
  });
});

const powerOn: DeviceInput = { type: 'wake', cause: 'power-on' };
const timer: DeviceInput = { type: 'wake', cause: 'timer' };
const shutCheck: DeviceInput = {
  type: 'check',
  contact: 'shut',
  cooldownOver: false,
  heartbeatDue: false,
};

/** The logic of a machine after some inputs. */
function after(machine: AnyStateMachine, inputs: readonly DeviceInput[]) {
  const logic = otherLogic(machine, plainWatch);
  const state = inputs.reduce((at, input) => logic.react(at, input).state, logic.initial);
  return { logic, state };
}

/** What is wrong with a machine, found on its way through some inputs. */
function faultOf(
  machine: AnyStateMachine,
  inputs: readonly DeviceInput[] = [powerOn, shutCheck],
): LogicFault {
  try {
    after(machine, inputs);
  } catch (error) {
    if (error instanceof LogicFault) return error;
    throw error;
  }
  throw new Error('nothing was found');
}

const atCheck = 'at check (contact: shut, cooldownOver: false, heartbeatDue: false) in "awake"';

describe('what is wrong with a machine', () => {
  it.each<readonly [string, Parameters<typeof machineWith>[0], string]>([
    ['an end of a wake that is missing', { check: { actions: [] } }, `nothing, ${atCheck}`],
    ['two ends of a wake', { check: { actions: [check, 'hold'] } }, `sleep, hold, ${atCheck}`],
    ['what a wake does', { wake: { actions: 'blink' } }, 'blink, at wake.power-on in "off"'],
    [
      'another interval',
      { check: { actions: { type: 'sleep', params: { interval: 'night' } } } },
      `{"interval":"night"}, ${atCheck}`,
    ],
    [
      'nothing for an interval',
      { check: { actions: { type: 'sleep', params: null } } },
      `"no params", ${atCheck}`,
    ],
    ['no interval', { check: { actions: 'sleep' } }, `"no params", ${atCheck}`],
    [
      'a sleep that names nothing',
      { check: { actions: { type: 'sleep', params: {} } } },
      `{}, ${atCheck}`,
    ],
    [
      'a sleep with a word',
      { check: { actions: { type: 'sleep', params: 'check' } } },
      `"check", ${atCheck}`,
    ],
    ['an action of its own', { check: { actions: [check, 'ring'] } }, `ring, ${atCheck}`],
    [
      'chance',
      { context: { luck: 0 }, check: { actions: [check, assign({ luck: () => Math.random() })] } },
      `two outcomes of ${atCheck}`,
    ],
  ])('is refused with its place: %s', (_, parts, found) => {
    const { name, message, what, facts } = faultOf(machineWith(parts));
    expect(name).toBe('LogicFault');
    expect(message).toBe(what);
    expect(facts.found).toBe(found);
    expect(facts.expected).toMatch(/\w/u);
  });

  it('is that it acts before it has power', () => {
    const eager = createMachine({ initial: 'off', entry: ['blink', 'hold'], states: { off: {} } });
    expect(faultOf(eager)).toMatchObject({
      what: 'this machine acts before it has power',
      facts: { found: 'blink, hold', expected: 'no actions before wake.power-on' },
    });
  });

  it('is a timer, in the words of its file', () => {
    const timed = createMachine({
      initial: 'off',
      states: {
        off: { on: { 'wake.power-on': 'on' } },
        on: { initial: 'a', states: { a: { after: { 60000: 'b' } }, b: {} } },
      },
    });
    const fault = faultOf(timed);
    expect(fault.what).toBe('this machine has a timer');
    expect(fault.facts.found).toBe('after: { 60000: … } in the state on.a');
  });

  it('is an invoked actor, in the words of its file', () => {
    const invoking = createMachine({ initial: 'off', states: { off: { invoke: { src: 'ask' } } } });
    expect(faultOf(invoking).facts.found).toBe("invoke: { src: 'ask' } in the state off");
  });

  it('is a timer with a name, or an actor, at the top', () => {
    const slow = setup({ delays: { slow: 5 } }).createMachine({
      initial: 'off',
      after: { slow: '.off' },
      states: { off: {} },
    });
    expect(faultOf(slow).facts.found).toBe('after: { slow: … } at the top');
    const inside = createMachine({ initial: 'off', states: { off: {} } });
    const invoking = createMachine({
      initial: 'off',
      invoke: { src: inside },
      states: { off: {} },
    });
    expect(faultOf(invoking).facts.found).toMatch(/^invoke: \{ src: .+ \} at the top$/u);
  });

  it('names events that no device sends only where nothing happens, and four at most', () => {
    const known =
      'wake.power-on, wake.reset, wake.timer, wake.contact, check, alertAttempted, heartbeatAttempted, lowBatteryAttempted, powerLost';
    const silent = (on: object, actions: readonly string[] = []) =>
      createMachine({
        initial: 'off',
        states: {
          off: { on: { 'wake.power-on': 'awake' } },
          awake: { on: { ...on, check: { actions: [...actions] } } },
        },
      });
    const five = { A: 'off', B: 'off', C: 'off', D: 'off', E: 'off' };
    expect(faultOf(silent(five)).facts.hint).toBe(
      `no device sends A, B, C, D: events are named ${known}`,
    );
    expect(faultOf(silent({})).facts).not.toHaveProperty('hint');
    expect(faultOf(silent(five, ['hold', 'attemptHeartbeat'])).facts).not.toHaveProperty('hint');
    const every = { 'wake.timer': 'off', 'wake.reset': 'off', alertAttempted: 'off' };
    const more = { heartbeatAttempted: 'off', lowBatteryAttempted: 'off', powerLost: 'off' };
    const all = { ...every, ...more, 'wake.contact': 'off', '*': 'off' };
    expect(faultOf(silent(all)).facts).not.toHaveProperty('hint');
    const ending = createMachine({
      initial: 'off',
      states: {
        off: { initial: 'a', states: { a: { type: 'final' } }, onDone: 'awake' },
        awake: {},
      },
    });
    expect(strangeEvents(ending, [])).toEqual([]);
  });

  it.each([
    ['', 'a function written in place of a name'],
    ['(anonymous)', 'a function written in place of a name'],
    ['xstate.raise', 'raise with a delay'],
    ['xstate.sendTo', 'sendTo'],
    ['xstate.spawnChild', 'spawnChild'],
    ['xstate.stopChild', 'stopChild'],
    ['xstate.cancel', 'cancel'],
    ['xstate.log', 'log'],
    ['xstate.emit', 'emit'],
    ['ring', 'ring'],
  ])('is an action of the type %j, in the words of its file', (type, words) => {
    expect(actionWords(type)).toBe(words);
  });

  it('is an event that no device sends, where nothing happens at a check', () => {
    const shouting = createMachine({
      initial: 'off',
      states: { off: { on: { 'wake.power-on': 'awake' } }, awake: { on: { CHECK: 'off' } } },
    });
    expect(faultOf(shouting).facts.hint).toMatch(/^no device sends CHECK: events are named /u);
  });

  it('is that it ends, and where', () => {
    const ending = createMachine({
      initial: 'off',
      states: { off: { on: { 'wake.power-on': 'end' } }, end: { type: 'final' } },
    });
    const { facts } = faultOf(ending);
    expect(facts.found).toBe('status done in "end"');
    expect(facts.expected).toMatch(/\w/u);
    expect(facts.hint).toContain('final');
  });

  it('is that it never stops reaching new states, once there are more than 5,000', () => {
    const counting = machineWith({
      context: { count: 0, padding: 'x'.repeat(500) },
      check: {
        actions: [
          check,
          assign({ count: ({ context }: { context: { count: number } }) => context.count + 1 }),
        ],
      },
    });
    const logic = otherLogic(counting, plainWatch);
    let { state } = logic.react(logic.initial, powerOn);
    const seen = new Set([logic.key(logic.initial), logic.key(state)]);
    const step = () => {
      state = logic.react(state, logic.phase(state) === 'awake' ? shutCheck : timer).state;
      seen.add(logic.key(state));
    };
    while (seen.size < 5_000) step();
    expect(step).toThrow('this machine never stops reaching new states');
    try {
      step();
    } catch (error) {
      expect(error).toMatchObject({ facts: { found: expect.stringMatching(/^more than 5000 /u) } });
      expect(error).toMatchObject({ facts: { found: expect.stringMatching(/^.{200,250}$/u) } });
      expect(error).toMatchObject({
        facts: { expected: expect.stringMatching(/\w/u), hint: expect.stringMatching(/\w/u) },
      });
    }
  });
});

describe('the context of a machine', () => {
  const nested = (levels: number): unknown => (levels === 0 ? 1 : [nested(levels - 1)]);

  it.each<readonly [string, object]>([
    ['numbers, texts, truths and nothing', { a: 1, b: 'x', c: true, d: null, e: undefined }],
    ['lists and objects', { a: [1, [2]], b: { c: {} } }],
    ['an object without a prototype', Object.assign(Object.create(null), { a: 1 })],
    ['lists in each other, 20 deep', { a: nested(20) }],
  ])('may have %s', (_, context) => {
    expect(after(machineWith({ context }), [powerOn, shutCheck]).state.phase).toBe('asleep');
  });

  it.each<readonly [string, object]>([
    ['a map', { a: new Map() }],
    ['a date, in a list', { a: [new Date(0)] }],
    ['a function', { a: () => 1 }],
    ['no number', { a: Number.NaN }],
    ['a number without end', { a: { b: Number.POSITIVE_INFINITY } }],
    ['a symbol', { a: Symbol('x') }],
    ['lists in each other, deeper than that', { a: nested(21) }],
  ])('may not have %s', (_, context) => {
    const { what, facts } = faultOf(machineWith({ context }));
    expect(what).toBe('the context of this machine is not plain data');
    expect(facts.expected).toMatch(/\w/u);
    expect(facts.hint).toMatch(/\w/u);
  });

  it('is its memory, as far as it is named like the memory of the watch', () => {
    const memoryWith = (context: object) => {
      const { logic, state } = after(machineWith({ context }), [powerOn]);
      return logic.memory(state);
    };
    const counts = { recentChecks: 5, shutRun: 2, failedAttempts: 1 };
    expect(memoryWith(counts)).toMatchObject(counts);
    expect(memoryWith({ recentChecks: 9, retained: counts })).toMatchObject(counts);
    expect(memoryWith({ ...counts, retained: null })).toMatchObject(counts);
    const none = { recentChecks: 0, shutRun: 0, failedAttempts: 0 };
    expect(memoryWith({ recentChecks: -1, shutRun: 0.5, failedAttempts: '3' })).toMatchObject(none);
    expect(memoryWith({})).toMatchObject(none);
  });

  it('says nothing of an alert that is unsent, or of the cooldown: these follow from what it did', () => {
    const sending = machineWith({
      check: { target: 'sending', actions: ['decideAlert', 'attemptAlert'] },
      states: { sending: { on: { alertAttempted: { target: 'asleep', actions: check } } } },
    });
    const memoryAfter = (...inputs: DeviceInput[]) => {
      const { logic, state } = after(sending, inputs);
      const { alertPending, coolingDown } = logic.memory(state);
      return { alertPending, coolingDown };
    };
    const failed: DeviceInput = { type: 'alertAttempted', delivered: false };
    const sent: DeviceInput = { type: 'alertAttempted', delivered: true };
    expect(memoryAfter()).toEqual({ alertPending: false, coolingDown: false });
    expect(memoryAfter(powerOn)).toEqual({ alertPending: false, coolingDown: true });
    expect(memoryAfter(powerOn, shutCheck)).toEqual({ alertPending: true, coolingDown: true });
    expect(memoryAfter(powerOn, shutCheck, failed).alertPending).toBe(true);
    expect(memoryAfter(powerOn, shutCheck, sent).alertPending).toBe(false);
  });
});

describe('a value from a module', () => {
  it.each<readonly [string, unknown]>([
    ['nothing', undefined],
    ['null', null],
    ['a text', 'machine'],
    ['a function', () => watchMachine],
    ['an empty object', {}],
    ['a configuration', { config: {}, root: {} }],
    ['something without a root', { config: {}, transition: () => null }],
    ['something without a configuration', { root: {}, transition: () => null }],
    ['something with a table of transitions', { config: {}, root: {}, transition: {} }],
  ])('is not a machine: %s', (_, value) => {
    expect(isMachine(value)).toBe(false);
  });

  it('is a machine, also of another copy of the package', () => {
    expect(isMachine(watchMachine)).toBe(true);
    expect(isMachine({ config: {}, root: {}, transition: () => null })).toBe(true);
  });

  it('is made with tools of the package, so that a module needs none of its own', () => {
    expect(logicTools).toEqual({ setup, assign, and, or, not });
  });
});
