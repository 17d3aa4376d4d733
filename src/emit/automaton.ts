// A watch's logic with as few states as tell its behaviour: states that answer every future alike are one. What is
// written as code or as a diagram is written from this, and so from the statechart itself.
import { invariant, itemAt } from '../base/index.js';
import {
  inputCode,
  inputCodes,
  type LogicTable,
  type Phase,
  type RetainedMemory,
  type WatchSettings,
} from '../machine/index.js';
import type { Program } from '../sim/index.js';
import { stateText } from '../visits/index.js';

/** What an input leads to: the next state, and the bits of an effects cell. */
export interface Reaction {
  readonly to: number;
  readonly effects: number;
}

export interface AutomatonState {
  readonly phase: Phase;
  /** What the device knows in it, in words. */
  readonly meaning: string;
  /** Retained memory of one of the states that this stands for. */
  readonly memory: RetainedMemory;
  /** One an input code; null where the input cannot come. */
  readonly reactions: readonly (Reaction | null)[];
}

/** States in the order of their phases; the first is the one without power. */
export interface Automaton {
  readonly states: readonly AutomatonState[];
}

const phaseOrder: readonly Phase[] = [
  'off',
  'awake',
  'sendingAlert',
  'sendingHeartbeat',
  'asleep',
  'holding',
];

/** The smallest automaton that decides just as a program's table does, with the inputs that its settings let come. */
export function automatonOf({ table, watch }: Program): Automaton {
  const comes = inputsThatCome(watch);
  const reachable = reachableStates(table, comes);
  const classOf = classesOf(table, comes, reachable);
  const first = new Map<number, number>();
  for (const state of reachable) {
    const group = cell(classOf, state);
    if (!first.has(group)) first.set(group, state);
  }
  const members = [...first.values()];
  const ordered = phaseOrder.flatMap((phase) =>
    members.filter((state) => table.phases[state] === phase),
  );
  const numbers = new Map(ordered.map((state, number) => [cell(classOf, state), number]));
  invariant(ordered[0] === table.initial, 'without power there is one state', { ordered });
  const numberOf = (state: number): number => numbers.get(cell(classOf, state)) ?? 0;
  return {
    states: ordered.map((state) => ({
      phase: itemAt(table.phases, state),
      meaning: stateText(table, state),
      memory: itemAt(table.memories, state),
      reactions: Array.from({ length: inputCodes }, (_, code) => {
        const index = state * inputCodes + code;
        const to = cell(table.next, index);
        if (to < 0 || !comes(code)) return null;
        return { to: numberOf(to), effects: cell(table.effects, index) };
      }),
    })),
  };
}

function inputsThatCome(watch: WatchSettings): (code: number) => boolean {
  return (code) => {
    if (code === inputCode.wake.contact) return watch.wakeOn !== 'timer';
    if (code < inputCode.check || code >= inputCode.powerLost) return true;
    return watch.heartbeats || (code & inputCode.checkHeartbeatDue) === 0;
  };
}

function reachableStates(table: LogicTable, comes: (code: number) => boolean): readonly number[] {
  const states = [table.initial];
  const seen = new Set(states);
  for (const state of states) {
    for (let code = 0; code < inputCodes; code += 1) {
      const to = cell(table.next, state * inputCodes + code);
      if (to < 0 || !comes(code) || seen.has(to)) continue;
      seen.add(to);
      states.push(to);
    }
  }
  return states;
}

/** For each state the number of its class: refined until no input tells two of a class apart. */
function classesOf(
  table: LogicTable,
  comes: (code: number) => boolean,
  reachable: readonly number[],
): Int32Array {
  let classOf = new Int32Array(table.phases.length);
  // No more rounds than states: each but the last makes a further class.
  for (let count = 0, round = 0; round <= reachable.length; round += 1) {
    const numbers = new Map<string, number>();
    const refined = new Int32Array(table.phases.length);
    for (const state of reachable) {
      const signature: (number | string)[] = [itemAt(table.phases, state), cell(classOf, state)];
      for (let code = 0; code < inputCodes; code += 1) {
        const index = state * inputCodes + code;
        const to = cell(table.next, index);
        if (to < 0 || !comes(code)) signature.push('-');
        else signature.push(cell(classOf, to), cell(table.effects, index));
      }
      const key = signature.join();
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

function cell(column: ArrayLike<number>, index: number): number {
  const value = column[index];
  invariant(value !== undefined, 'there is such a cell', { index });
  return value;
}
