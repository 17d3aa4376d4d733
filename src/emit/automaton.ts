// A watch's logic with as few states as tell its behaviour: states that answer every future alike are one. What is
// written as code or as a diagram is written from this, and so from the statechart itself.
import { invariant, itemAt } from '../base/index.js';
import { stateText } from '../coverage/index.js';
import {
  effectCell,
  equivalenceClasses,
  inputCodes,
  inputsAllowed,
  nextState,
  type Phase,
  type RetainedMemory,
  reachableStates,
} from '../machine/index.js';
import type { Program } from '../sim/index.js';

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
  'sendingLowBattery',
  'asleep',
  'holding',
];

/** The smallest automaton that decides just as a program's table does, with the inputs that its settings let come. */
export function automatonOf({ table, watch }: Program): Automaton {
  const inputs = inputsAllowed({ table, watch });
  const reachable = reachableStates(table, inputs);
  const classOf = equivalenceClasses(table, inputs, reachable);
  const first = new Map<number, number>();
  for (const state of reachable) {
    const group = cell(classOf, state);
    if (!first.has(group)) first.set(group, state);
  }
  const members = [...first.values()];
  const ordered = phaseOrder.flatMap((phase) =>
    members.filter((state) => table.phases[state] === phase),
  );
  const numbers = new Int32Array(members.length);
  for (const [number, state] of ordered.entries()) numbers[cell(classOf, state)] = number;
  invariant(ordered[0] === table.initial, 'without power there is one state', { ordered });
  const reactionsOf = (state: number): readonly (Reaction | null)[] => {
    const codes = new Set(inputs(state));
    return Array.from({ length: inputCodes }, (_, code) => {
      if (!codes.has(code)) return null;
      const to = cell(numbers, cell(classOf, nextState(table, state, code)));
      return { to, effects: effectCell(table, state, code) };
    });
  };
  return {
    states: ordered.map((state) => ({
      phase: itemAt(table.phases, state),
      meaning: stateText(table, state),
      memory: itemAt(table.memories, state),
      reactions: reactionsOf(state),
    })),
  };
}

function cell(column: ArrayLike<number>, index: number): number {
  const value = column[index];
  invariant(value !== undefined, 'there is such a cell', { index });
  return value;
}
