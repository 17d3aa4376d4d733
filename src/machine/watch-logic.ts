// The statechart behind the seam: each reaction is one call of the machine's own pure `transition`.
import {
  createActor,
  type ExecutableActionObject,
  initialTransition,
  type SnapshotFrom,
} from 'xstate';
import { invariant } from '../base/index.js';
import type { DeviceEffect, DeviceInput, DeviceLogic, Phase, SleepInterval } from './logic.js';
import type { RetainedMemory } from './memory.js';
import type { LogicSettings } from './settings.js';
import { type WatchEvent, watchMachine } from './watch-machine.js';

export type WatchSnapshot = SnapshotFrom<typeof watchMachine>;

const intervals: readonly SleepInterval[] = ['check', 'recheck', 'retry'];

/** The event of the statechart that carries a fact. */
export function watchEvent(input: DeviceInput): WatchEvent {
  return input.type === 'wake' ? { type: `wake.${input.cause}` } : input;
}

/** An action of the statechart as an effect; undefined for XState's own (assignments). */
export function effectOf(action: {
  readonly type: string;
  readonly params?: unknown;
}): DeviceEffect | undefined {
  if (action.type !== 'sleep') return plainEffects.find((effect) => effect.type === action.type);
  const { params } = action;
  const named =
    typeof params === 'object' && params !== null && 'interval' in params ? params.interval : null;
  const interval = intervals.find((candidate) => candidate === named);
  invariant(interval !== undefined, 'a sleep names its interval', { params });
  return { type: 'sleep', interval };
}

const plainEffects: readonly DeviceEffect[] = [
  { type: 'blink' },
  { type: 'dropAlert' },
  { type: 'decideAlert' },
  { type: 'attemptAlert' },
  { type: 'attemptHeartbeat' },
  { type: 'attemptLowBattery' },
  { type: 'hold' },
];

function phaseOf(snapshot: WatchSnapshot): Phase {
  if (snapshot.matches('off')) return 'off';
  if (snapshot.matches({ powered: 'awake' })) return 'awake';
  if (snapshot.matches({ powered: 'sendingAlert' })) return 'sendingAlert';
  if (snapshot.matches({ powered: 'sendingHeartbeat' })) return 'sendingHeartbeat';
  if (snapshot.matches({ powered: 'sendingLowBattery' })) return 'sendingLowBattery';
  if (snapshot.matches({ powered: 'asleep' })) return 'asleep';
  invariant(snapshot.matches({ powered: 'holding' }), 'transient states are never rested in', {
    value: snapshot.value,
  });
  return 'holding';
}

/** The same state with other retained memory: how a mistake in the device's memory is made. */
export function withMemory(state: WatchSnapshot, retained: RetainedMemory): WatchSnapshot {
  const { value, context } = state;
  return watchMachine.resolveState({ value, context: { ...context, retained } });
}

type WatchStep = (
  state: WatchSnapshot,
  event: WatchEvent,
) => readonly [WatchSnapshot, readonly ExecutableActionObject[]];

const nothing = (): void => undefined;

/**
 * XState's function `transition`, but that it makes an actor for the machine to look at again each time, which takes ten
 * times as long as the step. The watch looks at none.
 */
function watchStep(settings: LogicSettings): WatchStep {
  const self = createActor(watchMachine, { input: settings });
  const { id, sessionId, system } = self;
  const inert = { self, id, sessionId, system, logger: nothing, defer: nothing, emit: nothing };
  return (state, event) => {
    const actions: ExecutableActionObject[] = [];
    const actionExecutor = (action: ExecutableActionObject): void => {
      actions.push(action);
    };
    const scope = { ...inert, stopChild: nothing, actionExecutor };
    return [watchMachine.transition(state, event, scope), actions];
  };
}

/** The statechart as device logic. Exact and slow: about 50,000 reactions a second. */
export function watchLogic(settings: LogicSettings): DeviceLogic<WatchSnapshot> {
  const [initial] = initialTransition(watchMachine, settings);
  const step = watchStep(settings);
  return {
    initial,
    react(state, input) {
      const [next, actions] = step(state, watchEvent(input));
      const effects = actions.flatMap((action) => effectOf(action) ?? []);
      return { state: next, effects };
    },
    plainest(state, input) {
      if (input.type !== 'check') return input;
      const cooldownOver = input.cooldownOver || !state.context.retained.coolingDown;
      const heartbeatDue = input.heartbeatDue && settings.heartbeats;
      const { lowBatteryDue, ...plain } = input;
      const low = settings.lowBattery !== undefined && lowBatteryDue === true;
      return { ...plain, cooldownOver, heartbeatDue, ...(low ? { lowBatteryDue } : {}) };
    },
    phase: phaseOf,
    memory: (state) => state.context.retained,
    key: (state) =>
      JSON.stringify([phaseOf(state), state.context.retained, state.context.thisWake]),
  };
}
