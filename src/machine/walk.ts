// The walker of compiled tables: which inputs can come to a state, which states they reach, and which of those no
// sequence of inputs can tell apart.
import { invariant, itemAt } from '../base/index.js';
import type { WatchSettings } from './settings.js';
import { inputCode, inputCodes, type LogicTable } from './table.js';

/** The columns of the inputs that can come to a state, in ascending order. */
export type PossibleInputs = (state: number) => readonly number[];

interface Tabled {
  readonly table: LogicTable;
  readonly watch: WatchSettings;
}

/**
 * Inputs that the settings allow: no contact edge wakes a watch that its timer alone wakes, and no heartbeat or
 * low-battery message is due where none is sent.
 */
export function inputsAllowed({ table, watch }: Tabled): PossibleInputs {
  return possible(table, (_, code) => isAllowed(watch, code));
}

/** Of those, the ones that time allows too: no cooldown runs where none began, or where it takes no time. */
export function inputsInTime({ table, watch }: Tabled): PossibleInputs {
  return possible(table, (state, code) => {
    if (!isAllowed(watch, code)) return false;
    if (!isCheckCode(code) || (code & inputCode.checkCooldownOver) !== 0) return true;
    return watch.alertCooldownMs > 0 && itemAt(table.memories, state).coolingDown;
  });
}

/** Whether a column is one of a check. */
export function isCheckCode(code: number): boolean {
  return code >= inputCode.check && code < inputCode.powerLost;
}

/** The states that the inputs reach from the one without power, which is the first, in order of distance. */
export function reachableStates(table: LogicTable, inputs: PossibleInputs): readonly number[] {
  const states = [table.initial];
  const seen = new Set(states);
  for (const state of states) {
    for (const code of inputs(state)) {
      const to = cell(table.next, state * inputCodes + code);
      if (seen.has(to)) continue;
      seen.add(to);
      states.push(to);
    }
  }
  return states;
}

/**
 * For each of the states the number of its equivalence class: classes are refined until no input distinguishes two
 * states of one (Moore's algorithm). Classes are numbered in the order of their first states.
 * @param states closed under the inputs, as `reachableStates` returns them.
 */
export function equivalenceClasses(
  table: LogicTable,
  inputs: PossibleInputs,
  states: readonly number[],
): Int32Array {
  let classOf = new Int32Array(table.phases.length);
  // No more rounds than states: each but the last makes a further class.
  for (let count = 0, round = 0; round <= states.length; round += 1) {
    const numbers = new Map<string, number>();
    const refined = new Int32Array(table.phases.length);
    for (const state of states) {
      const reactions = inputs(state).map((code) => {
        const index = state * inputCodes + code;
        const next = cell(classOf, cell(table.next, index));
        return `${code} ${next} ${cell(table.effects, index)}`;
      });
      const key = [itemAt(table.phases, state), ...reactions].join();
      const known = numbers.get(key) ?? numbers.size;
      numbers.set(key, known);
      refined[state] = known;
    }
    classOf = refined;
    if (numbers.size === count) return classOf;
    count = numbers.size;
  }
  return classOf;
}

function possible(
  table: LogicTable,
  comes: (state: number, code: number) => boolean,
): PossibleInputs {
  return (state) => {
    const codes: number[] = [];
    for (let code = 0; code < inputCodes; code += 1) {
      if (cell(table.next, state * inputCodes + code) >= 0 && comes(state, code)) codes.push(code);
    }
    return codes;
  };
}

function isAllowed(watch: WatchSettings, code: number): boolean {
  if (code === inputCode.wake.contact) return watch.wakeOn !== 'timer';
  if (!isCheckCode(code)) return true;
  const beats = watch.heartbeats || (code & inputCode.checkHeartbeatDue) === 0;
  return beats && (watch.lowBattery !== undefined || (code & inputCode.checkLowBatteryDue) === 0);
}

function cell(column: ArrayLike<number>, index: number): number {
  const value = column[index];
  invariant(value !== undefined, 'there is such a cell', { index });
  return value;
}
