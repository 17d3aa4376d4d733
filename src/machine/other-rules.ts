// What logic may do when: the rules that a run relies on.
import { type DeviceEffect, type DeviceInput, type Phase } from './logic.js';

interface Before {
  readonly pending: boolean;
}

/** What is wrong with a reaction, or null. */
export function faultOfReaction(
  input: DeviceInput,
  effects: readonly DeviceEffect[],
  pending: boolean,
): { readonly what: string; readonly expected: string } | null {
  const count = (type: DeviceEffect['type']): number =>
    effects.filter((effect) => effect.type === type).length;
  const twice = effects.find(({ type }) => count(type) > 1);
  if (twice !== undefined) {
    return { what: `this machine does ${twice.type} twice at once`, expected: 'each action once' };
  }
  const ends = effects.filter(({ type }) => endsOf[input.type].includes(type));
  const others = effects.filter((effect) => !ends.includes(effect));
  const allowed = input.type === 'check' ? besideChecks : [];
  const stray = others.find(({ type }) => !allowed.includes(type));
  if (stray !== undefined) {
    return {
      what: `this machine does ${stray.type} when it cannot be done`,
      expected: expectedOf[input.type],
    };
  }
  // The low-battery message goes with an alert, or is all that is sent.
  if (ends.length === 2 && count('attemptAlert') === 1 && count('attemptLowBattery') === 1) {
    return faultOfAlerts(count, pending);
  }
  if (endsOf[input.type].length > 0 && ends.length !== 1) {
    return {
      what:
        ends.length === 0
          ? 'this machine leaves a wake without an end'
          : 'this machine ends a wake twice',
      expected: expectedOf[input.type],
    };
  }
  if (input.type === 'alertAttempted' && !input.delivered && count('hold') > 0) {
    return { what: 'this machine holds with its alert unsent', expected: 'sleep' };
  }
  return faultOfAlerts(count, pending);
}

const besideChecks: readonly DeviceEffect['type'][] = ['blink', 'dropAlert', 'decideAlert'];

const endsOf: Readonly<Record<DeviceInput['type'], readonly DeviceEffect['type'][]>> = {
  wake: [],
  check: ['sleep', 'hold', 'attemptAlert', 'attemptHeartbeat', 'attemptLowBattery'],
  alertAttempted: ['sleep', 'hold'],
  heartbeatAttempted: ['sleep', 'hold'],
  lowBatteryAttempted: ['sleep', 'hold'],
  powerLost: [],
};

const expectedOf: Readonly<Record<DeviceInput['type'], string>> = {
  wake: 'nothing: what a wake is to do it decides at its check',
  check:
    'one of sleep, hold, attemptAlert, attemptHeartbeat and attemptLowBattery, and before it blink, dropAlert or decideAlert',
  alertAttempted: 'one of sleep and hold',
  heartbeatAttempted: 'one of sleep and hold',
  lowBatteryAttempted: 'one of sleep and hold',
  powerLost: 'nothing',
};

function faultOfAlerts(
  count: (type: DeviceEffect['type']) => number,
  pending: boolean,
): { readonly what: string; readonly expected: string } | null {
  if (count('dropAlert') > 0 && !pending) {
    return {
      what: 'this machine drops an alert that it has not decided',
      expected: 'decideAlert first',
    };
  }
  const owed = pending && count('dropAlert') === 0;
  if (count('decideAlert') > 0 && owed) {
    return {
      what: 'this machine decides an alert while another is unsent',
      expected: 'attemptAlert alone, or dropAlert before',
    };
  }
  if (count('decideAlert') > 0 && count('attemptAlert') === 0) {
    return {
      what: 'this machine decides an alert and does not send it',
      expected: 'attemptAlert as well',
    };
  }
  if (count('attemptAlert') > 0 && !owed && count('decideAlert') === 0) {
    return {
      what: 'this machine sends an alert that it has not decided',
      expected: 'decideAlert as well',
    };
  }
  return null;
}

/** What the machine waits for after a reaction without a fault, and whether an alert is unsent then. */
export function phaseAfter(
  { pending }: Before,
  input: DeviceInput,
  effects: readonly DeviceEffect[],
): { readonly phase: Phase; readonly pending: boolean } {
  if (input.type === 'powerLost') return { phase: 'off', pending: false };
  if (input.type === 'wake') return { phase: 'awake', pending };
  const has = (type: DeviceEffect['type']): boolean => effects.some((one) => one.type === type);
  if (has('attemptAlert')) return { phase: 'sendingAlert', pending: true };
  const delivered = input.type === 'alertAttempted' && input.delivered;
  const left = pending && !delivered && !has('dropAlert');
  if (has('attemptHeartbeat')) return { phase: 'sendingHeartbeat', pending: left };
  if (has('attemptLowBattery')) return { phase: 'sendingLowBattery', pending: left };
  return { phase: has('hold') ? 'holding' : 'asleep', pending: left };
}
