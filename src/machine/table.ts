// Device logic flattened: walking its pure reactions to a fixed point gives every reachable state a number and
// every reaction two table cells. The simulator runs these; nothing of the logic is written twice.

import { type DeviceMs, InvariantError, invariant, itemAt } from '../base/index.js';
import { mostTableStates, type NominalSleeps, nominalSleeps } from '../model/index.js';
import type {
  ContactReading,
  DeviceEffect,
  DeviceInput,
  DeviceLogic,
  Phase,
  SleepInterval,
  WakeCause,
} from './logic.js';
import type { RetainedMemory } from './memory.js';

/**
 * Column numbers of the inputs. A check's column adds the four bits of its facts to `check`, which has none of
 * them itself: the facts can be read off the column. No input has a column between the last send and `check`.
 */
export const inputCode = {
  wake: { 'power-on': 0, reset: 1, timer: 2, contact: 3 },
  alertFailed: 4,
  alertDelivered: 5,
  heartbeatFailed: 6,
  heartbeatDelivered: 7,
  lowBatteryFailed: 8,
  lowBatteryDelivered: 9,
  check: 16,
  checkReadsOpen: 1,
  checkCooldownOver: 2,
  checkHeartbeatDue: 4,
  checkLowBatteryDue: 8,
  powerLost: 32,
} as const;

/** Columns a state. */
export const inputCodes = 33;

/** Bits of an effects cell; the sleep's interval takes two. */
export const effectBit = {
  blink: 1,
  dropAlert: 2,
  decideAlert: 4,
  attemptAlert: 8,
  attemptHeartbeat: 16,
  hold: 32,
  sleepCheck: 64,
  sleepRecheck: 128,
  sleepRetry: 192,
  sleepMask: 192,
  attemptLowBattery: 256,
} as const;

/** Which of the three sleeps effects name, in the order of `nominalSleeps`; null: the device does not fall asleep. */
export function sleepIn(effects: number): 0 | 1 | 2 | null {
  switch (effects & effectBit.sleepMask) {
    case effectBit.sleepCheck:
      return 0;
    case effectBit.sleepRecheck:
      return 1;
    case effectBit.sleepRetry:
      return 2;
    default:
      return null;
  }
}

/** The nominal length of that sleep. */
export function nominalSleepIn(effects: number, watch: NominalSleeps): DeviceMs | null {
  const which = sleepIn(effects);
  return which === null ? null : nominalSleeps(watch)[which];
}

/** No such reaction: the input cannot come in that state. */
export const impossible = -1;

/** Flat device logic: `next` and `effects` are indexed by `state × inputCodes + input code`. */
export interface LogicTable {
  readonly next: Int32Array;
  readonly effects: Uint16Array;
  readonly phases: readonly Phase[];
  readonly memories: readonly RetainedMemory[];
  /** The state without power. */
  readonly initial: number;
}

/** The state that an input leads to. @throws InvariantError when it cannot come. */
export function nextState({ next }: LogicTable, state: number, code: number): number {
  const to = next[state * inputCodes + code];
  if (to === undefined || to < 0) throw new InvariantError('the input can come', { state, code });
  return to;
}

/** The state after a wake. A reset that cleared memory finds the logic without power, and starts it as power-on does. */
export function wokenState(table: LogicTable, state: number, cause: number): number {
  const isCleared = cause === inputCode.wake.reset && table.phases[state] === 'off';
  return nextState(table, state, isCleared ? inputCode.wake['power-on'] : cause);
}

/** The bits of what an input leads to; 0 where it cannot come. */
export function effectCell({ effects }: LogicTable, state: number, code: number): number {
  return effects[state * inputCodes + code] ?? 0;
}

const allInputs: readonly DeviceInput[] = [
  ...(['power-on', 'reset', 'timer', 'contact'] as const).map(
    (cause: WakeCause): DeviceInput => ({ type: 'wake', cause }),
  ),
  { type: 'alertAttempted', delivered: false },
  { type: 'alertAttempted', delivered: true },
  { type: 'heartbeatAttempted', delivered: false },
  { type: 'heartbeatAttempted', delivered: true },
  { type: 'lowBatteryAttempted', delivered: false },
  { type: 'lowBatteryAttempted', delivered: true },
  ...Array.from({ length: 16 }, (_, facts): DeviceInput => {
    const contact: ContactReading = (facts & inputCode.checkReadsOpen) !== 0 ? 'open' : 'shut';
    return {
      type: 'check',
      contact,
      cooldownOver: (facts & inputCode.checkCooldownOver) !== 0,
      heartbeatDue: (facts & inputCode.checkHeartbeatDue) !== 0,
      ...((facts & inputCode.checkLowBatteryDue) === 0 ? {} : { lowBatteryDue: true }),
    };
  }),
  { type: 'powerLost' },
];

const sleepBits: Readonly<Record<SleepInterval, number>> = {
  check: effectBit.sleepCheck,
  recheck: effectBit.sleepRecheck,
  retry: effectBit.sleepRetry,
};

function canCome(phase: Phase, input: DeviceInput): boolean {
  switch (input.type) {
    case 'wake':
      if (input.cause === 'power-on') return phase === 'off';
      if (input.cause === 'reset') return phase !== 'off';
      return phase === 'asleep';
    case 'check':
      return phase === 'awake';
    case 'alertAttempted':
      return phase === 'sendingAlert';
    case 'heartbeatAttempted':
      return phase === 'sendingHeartbeat';
    case 'lowBatteryAttempted':
      return phase === 'sendingLowBattery';
    case 'powerLost':
      return phase !== 'off';
  }
}

/** The facts of an input as its column number. */
export function codeOf(input: DeviceInput): number {
  switch (input.type) {
    case 'wake':
      return inputCode.wake[input.cause];
    case 'check':
      return (
        inputCode.check +
        (input.contact === 'open' ? inputCode.checkReadsOpen : 0) +
        (input.cooldownOver ? inputCode.checkCooldownOver : 0) +
        (input.heartbeatDue ? inputCode.checkHeartbeatDue : 0) +
        (input.lowBatteryDue === true ? inputCode.checkLowBatteryDue : 0)
      );
    case 'alertAttempted':
      return input.delivered ? inputCode.alertDelivered : inputCode.alertFailed;
    case 'heartbeatAttempted':
      return input.delivered ? inputCode.heartbeatDelivered : inputCode.heartbeatFailed;
    case 'lowBatteryAttempted':
      return input.delivered ? inputCode.lowBatteryDelivered : inputCode.lowBatteryFailed;
    case 'powerLost':
      return inputCode.powerLost;
  }
}

function cellOf(effects: readonly DeviceEffect[]): number {
  let cell = 0;
  for (const effect of effects) {
    const bit = effect.type === 'sleep' ? sleepBits[effect.interval] : effectBit[effect.type];
    invariant((cell & bit) === 0, 'a reaction has each effect at most once', { effects });
    cell |= bit;
  }
  return cell;
}

/**
 * Enumerates the reachable states of device logic and writes its reactions into a flat table.
 * @throws InvariantError when there are more than `mostTableStates`.
 */
export function compileTable<State>(logic: DeviceLogic<State>): LogicTable {
  const states: State[] = [logic.initial];
  const numbers = new Map([[logic.key(logic.initial), 0]]);
  const next: number[] = [];
  const effects: number[] = [];
  const numberOf = (state: State): number => {
    const key = logic.key(state);
    const known = numbers.get(key);
    if (known !== undefined) return known;
    invariant(states.length < mostTableStates, 'the logic has too many states', {
      mostTableStates,
    });
    numbers.set(key, states.length);
    return states.push(state) - 1;
  };
  for (let index = 0; index < states.length; index += 1) {
    const state = itemAt(states, index);
    const phase = logic.phase(state);
    const first = index * inputCodes;
    for (let code = 0; code < inputCodes; code += 1) {
      next.push(impossible);
      effects.push(0);
    }
    const possible = allInputs.filter((input) => canCome(phase, input));
    for (const input of possible) {
      const code = codeOf(input);
      if (codeOf(logic.plainest(state, input)) !== code) continue;
      const reaction = logic.react(state, input);
      next[first + code] = numberOf(reaction.state);
      effects[first + code] = cellOf(reaction.effects);
    }
    for (const input of possible) {
      const code = codeOf(input);
      const from = first + codeOf(logic.plainest(state, input));
      next[first + code] = itemAt(next, from);
      effects[first + code] = itemAt(effects, from);
    }
  }
  return {
    next: Int32Array.from(next),
    effects: Uint16Array.from(effects),
    phases: states.map((state) => logic.phase(state)),
    memories: states.map((state) => logic.memory(state)),
    initial: 0,
  };
}
