// The compiled table behind the seam of device logic: a state is a row number.
import {
  codeOf,
  type DeviceEffect,
  type DeviceLogic,
  effectBit,
  impossible,
  initialMemory,
  inputCodes,
  type LogicTable,
  type SleepInterval,
} from '../../src/machine/index.js';

const inOrder = [
  'blink',
  'dropAlert',
  'decideAlert',
  'attemptAlert',
  'attemptLowBattery',
  'attemptHeartbeat',
  'hold',
] as const;
const intervals: readonly SleepInterval[] = ['check', 'recheck', 'retry'];

function effectsOf(cell: number): DeviceEffect[] {
  const effects: DeviceEffect[] = inOrder
    .filter((type) => (cell & effectBit[type]) !== 0)
    .map((type) => ({ type }));
  const interval = intervals[(cell & effectBit.sleepMask) / effectBit.sleepCheck - 1];
  return interval === undefined ? effects : [...effects, { type: 'sleep', interval }];
}

export function tableLogic(table: LogicTable): DeviceLogic<number> {
  return {
    initial: table.initial,
    react(state, input) {
      const cell = state * inputCodes + codeOf(input);
      const next = table.next[cell] ?? impossible;
      if (next === impossible) throw new Error(`${input.type} cannot come in state ${state}`);
      return { state: next, effects: effectsOf(table.effects[cell] ?? 0) };
    },
    plainest: (_, input) => input,
    phase: (state) => table.phases[state] ?? 'off',
    memory: (state) => table.memories[state] ?? initialMemory(1),
    key: String,
  };
}
