// Laws of any logic that runs in the device, checked on random walks through the inputs that can come.
import fc from 'fast-check';
import { expect } from 'vitest';
import {
  type DeviceEffect,
  type DeviceInput,
  type DeviceLogic,
  initialMemory,
  type LogicSettings,
  openChecks,
  type Phase,
  type RetainedMemory,
} from '../../src/machine/index.js';

/** One step of a walk: a free choice for each phase. */
export interface Choice {
  readonly open: boolean;
  readonly cooldownOver: boolean;
  readonly heartbeatDue: boolean;
  readonly lowBatteryDue: boolean;
  readonly delivered: boolean;
  readonly byContact: boolean;
  readonly fault: 'none' | 'reset' | 'powerLost';
}

export const walks: fc.Arbitrary<readonly Choice[]> = fc.array(
  fc.record({
    open: fc.boolean(),
    cooldownOver: fc.boolean(),
    heartbeatDue: fc.boolean(),
    lowBatteryDue: fc.boolean(),
    delivered: fc.boolean(),
    byContact: fc.boolean(),
    fault: fc.constantFrom(
      ...Array.from({ length: 14 }, () => 'none' as const),
      'reset',
      'powerLost',
    ),
  }),
  { minLength: 1, maxLength: 120, size: 'max' },
);

/** The input that a choice means in a phase. */
function inputIn(phase: Phase, choice: Choice): DeviceInput {
  if (phase === 'off') return { type: 'wake', cause: 'power-on' };
  if (choice.fault === 'powerLost') return { type: 'powerLost' };
  if (choice.fault === 'reset' || phase === 'holding') return { type: 'wake', cause: 'reset' };
  switch (phase) {
    case 'asleep':
      return { type: 'wake', cause: choice.byContact ? 'contact' : 'timer' };
    case 'awake': {
      const { cooldownOver, heartbeatDue, lowBatteryDue } = choice;
      const contact = choice.open ? 'open' : 'shut';
      return { type: 'check', contact, cooldownOver, heartbeatDue, lowBatteryDue };
    }
    case 'sendingAlert':
      return { type: 'alertAttempted', delivered: choice.delivered };
    case 'sendingHeartbeat':
      return { type: 'heartbeatAttempted', delivered: choice.delivered };
    case 'sendingLowBattery':
      return { type: 'lowBatteryAttempted', delivered: choice.delivered };
  }
}

export interface Step {
  readonly phaseBefore: Phase;
  readonly before: RetainedMemory;
  readonly input: DeviceInput;
  readonly effects: readonly DeviceEffect[];
  readonly after: RetainedMemory;
  readonly phaseAfter: Phase;
}

/** Walks through the logic, and checks on the way what holds of its states as values. */
export function walk<State>(logic: DeviceLogic<State>, choices: readonly Choice[]): Step[] {
  const reactions = new Map<string, string>();
  let state = logic.initial;
  return choices.map((choice) => {
    const keyBefore = logic.key(state);
    const phaseBefore = logic.phase(state);
    const before = logic.memory(state);
    const input = inputIn(phaseBefore, choice);
    const reaction = logic.react(state, input);
    const written = JSON.stringify([logic.key(reaction.state), reaction.effects]);

    const again = logic.react(state, input);
    expect(JSON.stringify([logic.key(again.state), again.effects]), 'reacts alike').toBe(written);
    const plainest = logic.react(state, logic.plainest(state, input));
    const plain = JSON.stringify([logic.key(plainest.state), plainest.effects]);
    expect(plain, 'reacts to the plainest input alike').toBe(written);
    expect(logic.key(state), 'a reaction leaves the old state alone').toBe(keyBefore);
    const known = `${keyBefore} ${JSON.stringify(input)}`;
    expect(reactions.get(known) ?? written, 'states of one key behave alike').toBe(written);
    reactions.set(known, written);

    state = reaction.state;
    const step = { phaseBefore, before, input, effects: reaction.effects };
    return { ...step, after: logic.memory(state), phaseAfter: logic.phase(state) };
  });
}

type Law = (step: Step, settings: LogicSettings) => boolean;

function has(step: Step, type: DeviceEffect['type']): boolean {
  return step.effects.some((effect) => effect.type === type);
}

function sleeps(step: Step): string | undefined {
  return step.effects.find((effect) => effect.type === 'sleep')?.interval;
}

function readsOpen({ input }: Step): boolean {
  return input.type === 'check' && input.contact === 'open';
}

/** What holds of every single step, by a sentence that says so. */
export const laws: Readonly<Record<string, Law>> = {
  'each effect comes at most once': ({ effects }) =>
    new Set(effects.map(({ type }) => type)).size === effects.length,

  'a check leads to a send or to sleep': (step) =>
    step.input.type !== 'check' ||
    ['asleep', 'sendingAlert', 'sendingHeartbeat', 'sendingLowBattery'].includes(step.phaseAfter),

  'the phase is what the effects say': (step) => {
    const wanted: Phase | undefined = has(step, 'sleep')
      ? 'asleep'
      : has(step, 'hold')
        ? 'holding'
        : has(step, 'attemptAlert')
          ? 'sendingAlert'
          : has(step, 'attemptHeartbeat')
            ? 'sendingHeartbeat'
            : has(step, 'attemptLowBattery')
              ? 'sendingLowBattery'
              : undefined;
    return wanted === undefined
      ? step.phaseAfter === (step.input.type === 'powerLost' ? 'off' : 'awake')
      : step.phaseAfter === wanted;
  },

  'the device blinks at an open check and at nothing else': (step) =>
    has(step, 'blink') === readsOpen(step),

  'an alert is decided at an open check with enough open ones, none pending, none cooling down': (
    step,
    { escalationThreshold },
  ) => {
    const cooled =
      !step.before.coolingDown || (step.input.type === 'check' && step.input.cooldownOver);
    const wanted =
      readsOpen(step) &&
      openChecks(step.after) >= escalationThreshold.open &&
      !step.before.alertPending &&
      cooled;
    return has(step, 'decideAlert') === wanted;
  },

  'a pending alert is attempted at each check that does not drop it': (step) =>
    step.input.type !== 'check' || has(step, 'attemptAlert') === step.after.alertPending,

  'an alert is dropped by a shut check, where that is asked for': (step, { unsentWhenShut }) =>
    has(step, 'dropAlert') ===
    (step.input.type === 'check' &&
      step.input.contact === 'shut' &&
      step.before.alertPending &&
      unsentWhenShut === 'drop'),

  'a heartbeat is sent at a due check without an alert, where there are heartbeats': (
    step,
    { heartbeats },
  ) =>
    has(step, 'attemptHeartbeat') ===
    (step.input.type === 'check' &&
      step.input.heartbeatDue &&
      heartbeats &&
      !has(step, 'attemptAlert') &&
      !has(step, 'attemptLowBattery')),

  'a low-battery message is sent at a due check, with an alert or without, where there is one': (
    step,
    { lowBattery },
  ) =>
    has(step, 'attemptLowBattery') ===
    (step.input.type === 'check' && step.input.lowBatteryDue === true && lowBattery !== undefined),

  'only a failed alert asks for the retry interval': (step) =>
    sleeps(step) !== 'retry' || (step.input.type === 'alertAttempted' && !step.input.delivered),

  'the device holds after a delivery, where that is asked for': (step, { afterAlert }) =>
    has(step, 'hold') ===
    (step.input.type === 'alertAttempted' &&
      step.input.delivered &&
      afterAlert === 'hold-until-reset'),

  'a shut run is counted up to the clear threshold': ({ after }, { clearThreshold }) =>
    after.shutRun >= 0 && after.shutRun <= clearThreshold,

  'no more checks are remembered than asked for': ({ after }, { escalationThreshold }) =>
    after.recentChecks >= 0 && after.recentChecks < 2 ** escalationThreshold.outOf,

  'a full shut run leaves no open check in memory': ({ after }, { clearThreshold }) =>
    after.shutRun < clearThreshold || after.recentChecks === 0,

  'a pending alert is not cooling down': ({ after }) => !(after.alertPending && after.coolingDown),

  'failures are counted for a pending alert, and fewer than the attempts': (
    { after },
    { retryAttempts },
  ) =>
    after.failedAttempts === 0 ||
    (after.alertPending && after.failedAttempts > 0 && after.failedAttempts < retryAttempts),

  'only a delivery starts a cooldown': ({ before, input, after }) =>
    !after.coolingDown ||
    before.coolingDown ||
    (input.type === 'alertAttempted' && input.delivered),

  'waking changes nothing in retained memory': ({ input, before, after }) =>
    input.type !== 'wake' || JSON.stringify(before) === JSON.stringify(after),

  'without power retained memory is as at the very start': (
    { phaseAfter, after },
    { clearThreshold },
  ) =>
    phaseAfter !== 'off' || JSON.stringify(after) === JSON.stringify(initialMemory(clearThreshold)),
};
