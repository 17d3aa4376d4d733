// Another XState machine behind the seam: an owner's own logic. It answers the same events by actions of the same
// names; what it may do when is checked at each reaction, so that whatever runs it can rely on it.

import {
  type AnyStateMachine,
  and,
  assign,
  initialTransition,
  not,
  or,
  type SnapshotFrom,
  setup,
  transition,
} from 'xstate';
import { mostOtherLevels, mostOtherStates } from '../model/index.js';
import type { DeviceEffect, DeviceInput, DeviceLogic, Phase } from './logic.js';
import { initialMemory, type RetainedMemory } from './memory.js';
import { actionWords, refusalOfStates, strangeEvents } from './other-refusals.js';
import { faultOfReaction, phaseAfter } from './other-rules.js';
import type { LogicSettings } from './settings.js';
import { compileTable, type LogicTable } from './table.js';
import { effectOf, watchEvent } from './watch-logic.js';

/** What is wrong with a machine that was to be the logic of a watch. */
export class LogicFault extends Error {
  override readonly name = 'LogicFault';
  constructor(
    readonly what: string,
    readonly facts: { readonly found?: string; readonly expected?: string; readonly hint?: string },
  ) {
    super(what);
  }
}

type OtherSnapshot = SnapshotFrom<AnyStateMachine>;

export interface OtherState {
  readonly snapshot: OtherSnapshot;
  readonly phase: Phase;
  /** An alert is decided, and neither delivered nor dropped. */
  readonly pending: boolean;
  readonly key: string;
}

/** What a module gets to make its machine with, so that it needs no package of its own. */
export const logicTools = { setup, assign, and, or, not };

/** Whether a value is an XState machine, of whichever copy of the package. */
export function isMachine(value: unknown): value is AnyStateMachine {
  return (
    typeof value === 'object' &&
    value !== null &&
    'config' in value &&
    'root' in value &&
    'transition' in value &&
    typeof value.transition === 'function'
  );
}

/**
 * A machine as device logic; its input is the settings of the watch.
 * @throws LogicFault, then or at a reaction, when it is none: it does what is not known, or not possible then, keeps
 * time, or goes on to ever new states.
 */
export function otherLogic(
  machine: AnyStateMachine,
  settings: LogicSettings,
): DeviceLogic<OtherState> {
  const seen = new Set<string>();
  const stateOf = (snapshot: OtherSnapshot, phase: Phase, pending: boolean): OtherState => {
    const key = keyOf(snapshot, phase, pending);
    seen.add(key);
    if (seen.size > mostOtherStates) {
      throw new LogicFault('this machine never stops reaching new states', {
        found: `more than ${mostOtherStates} of them, such as ${key.slice(0, 200)}`,
        expected: 'a context with few values',
        hint: 'stop counting at the highest value that matters, and reset values that no longer matter',
      });
    }
    return { snapshot, phase, pending, key };
  };
  const refused = refusalOfStates(machine);
  if (refused !== null) throw new LogicFault(refused.what, refused.facts);
  const [first, actions] = initialTransition(machine, settings);
  const begun = effectsOf(actions, 'as it starts');
  if (begun.length > 0) {
    throw new LogicFault('this machine acts before it has power', {
      found: begun.map(({ type }) => type).join(', '),
      expected: 'no actions before wake.power-on',
    });
  }
  const initial = stateOf(first, 'off', false);
  return {
    initial,
    react(state, input) {
      const reaction = reactionOf(machine, state, input);
      const again = reactionOf(machine, state, input);
      const next = stateOf(reaction.snapshot, reaction.phase, reaction.pending);
      if (keyOf(again.snapshot, again.phase, again.pending) !== next.key) {
        throw new LogicFault('this machine is not deterministic', {
          found: `two outcomes of ${whereText(state, input)}`,
          expected: 'decisions from its context and events only, without a clock or random numbers',
        });
      }
      return { state: next, effects: reaction.effects };
    },
    // It may look at any fact.
    plainest: (_, input) => input,
    phase: ({ phase }) => phase,
    memory: (state) => memoryOf(state),
    key: ({ key }) => key,
  };
}

/** The table of a machine, for the settings of a watch. @throws LogicFault as `otherLogic` does. */
export function otherTable(machine: AnyStateMachine, settings: LogicSettings): LogicTable {
  return compileTable(otherLogic(machine, settings));
}

function reactionOf(machine: AnyStateMachine, state: OtherState, input: DeviceInput) {
  const where = whereText(state, input);
  const [snapshot, actions] = transition(machine, state.snapshot, watchEvent(input));
  const effects = effectsOf(actions, where);
  const fault = faultOfReaction(input, effects, state.pending);
  if (fault !== null) {
    const found = effects.map(({ type }) => type).join(', ');
    throw new LogicFault(fault.what, {
      found: `${found === '' ? 'nothing' : found}, ${where}`,
      expected: fault.expected,
      ...strangeHint(machine, effects),
    });
  }
  return { snapshot, effects, ...phaseAfter(state, input, effects) };
}

const deviceEvents: readonly string[] = [
  ...['power-on', 'reset', 'timer', 'contact'].map((cause) => `wake.${cause}`),
  ...['check', 'alertAttempted', 'heartbeatAttempted', 'lowBatteryAttempted', 'powerLost'],
];

/** Where nothing happens: events in its file that may be meant for one of the device's. */
function strangeHint(machine: AnyStateMachine, effects: readonly DeviceEffect[]) {
  const strange = effects.length > 0 ? [] : strangeEvents(machine, deviceEvents);
  if (strange.length === 0) return {};
  return {
    hint: `no device sends ${strange.slice(0, 4).join(', ')}: events are named ${deviceEvents.join(', ')}`,
  };
}

function whereText({ snapshot }: OtherState, input: DeviceInput): string {
  const { type, ...facts } = watchEvent(input);
  const factTexts = Object.entries(facts).map(([name, value]) => `${name}: ${String(value)}`);
  const event = factTexts.length === 0 ? type : `${type} (${factTexts.join(', ')})`;
  return `at ${event} in ${JSON.stringify(valueOf(snapshot))}`;
}

function valueOf(snapshot: OtherSnapshot): unknown {
  return snapshot.value;
}

function contextOf(snapshot: OtherSnapshot): unknown {
  return snapshot.context;
}

/** @throws LogicFault for what is no plain data, or no running machine. */
function keyOf(snapshot: OtherSnapshot, phase: Phase, pending: boolean): string {
  if (snapshot.status !== 'active') {
    throw new LogicFault('this machine ends', {
      found: `status ${snapshot.status} in ${JSON.stringify(valueOf(snapshot))}`,
      expected: 'a machine without an end',
      hint: 'remove final states (to do nothing until a reset, use the action hold), and errors that its actions and guards throw',
    });
  }
  const context = contextOf(snapshot);
  if (!isPlain(context, 0)) {
    throw new LogicFault('the context of this machine is not plain data', {
      expected: 'numbers, texts, true, false, null, lists and objects of these',
      hint: 'the device can retain only plain data while it sleeps',
    });
  }
  return JSON.stringify([valueOf(snapshot), context, phase, pending]);
}

function isPlain(value: unknown, depth: number): boolean {
  if (value === null || value === undefined) return true;
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value === 'string' || typeof value === 'boolean') return true;
  if (depth > mostOtherLevels) return false;
  const prototype: unknown = Object.getPrototypeOf(value);
  if (!Array.isArray(value) && prototype !== Object.prototype && prototype !== null) return false;
  return Object.values(value).every((part) => isPlain(part, depth + 1));
}

/** @throws LogicFault for actions of the machine's own, and for what takes time. */
function effectsOf(
  actions: readonly { readonly type: string; readonly params?: unknown }[],
  where: string,
): readonly DeviceEffect[] {
  return actions.map((action) => {
    if (action.type === 'sleep' && !isInterval(action.params)) {
      throw new LogicFault('this machine sleeps an unknown interval', {
        found: `${JSON.stringify(action.params ?? 'no params')}, ${where}`,
        expected: "{ type: 'sleep', params: { interval: 'check', 'recheck' or 'retry' } }",
      });
    }
    const effect = effectOf(action);
    if (effect !== undefined) return effect;
    throw new LogicFault('this machine has an unknown action', {
      found: `${actionWords(action.type)}, ${where}`,
      expected:
        'blink, dropAlert, decideAlert, attemptAlert, attemptHeartbeat, attemptLowBattery, sleep or hold',
      hint: 'change the context with assign; every other action must be one of these, by its name',
    });
  });
}

function isInterval(params: unknown): boolean {
  if (typeof params !== 'object' || params === null || !('interval' in params)) return false;
  return (
    params.interval === 'check' || params.interval === 'recheck' || params.interval === 'retry'
  );
}

/** What of its context is named like the watch's own memory; the rest as at power-on. */
function memoryOf({ snapshot, phase, pending }: OtherState): RetainedMemory {
  const fresh = initialMemory(0);
  const context = contextOf(snapshot);
  const retained =
    isRecord(context) && isRecord(context['retained']) ? context['retained'] : context;
  const count = (name: string): number => {
    const value = isRecord(retained) ? retained[name] : undefined;
    return typeof value === 'number' && Number.isSafeInteger(value) ? Math.max(0, value) : 0;
  };
  return {
    ...fresh,
    recentChecks: count('recentChecks'),
    shutRun: count('shutRun'),
    failedAttempts: count('failedAttempts'),
    alertPending: pending,
    // It may look at the cooldown whenever it has power.
    coolingDown: phase !== 'off',
  };
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
