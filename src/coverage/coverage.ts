// What a watch can come to, and what of it was visited. Reactions that do the same and lead to the same count once;
// inputs that cannot come with the settings do not count.
import {
  inputCode,
  inputCodes,
  inputsInTime,
  isCheckCode,
  type LogicTable,
  reachableStates,
} from '../machine/index.js';
import type { Program } from '../sim/index.js';
import type { Visits } from './walk.js';
import { stateText, transitionText } from './words.js';

/** What makes a state change: the device's own course, a reset, or a power loss. */
export type TransitionKind = 'course' | 'reset' | 'power';

/** One state of the logic, or one transition, in words. */
export interface CoverageItem {
  readonly words: string;
  readonly visited: boolean;
}

export interface TransitionItem extends CoverageItem {
  readonly kind: TransitionKind;
}

export interface Coverage {
  readonly states: readonly CoverageItem[];
  readonly transitions: readonly TransitionItem[];
}

/** What was visited of all that a program can come to. */
export function coverageOf({ table, watch }: Program, visits: Visits): Coverage {
  const inputs = inputsInTime({ table, watch });
  const reachable = reachableStates(table, inputs);
  return {
    states: reachable.map((state) => ({
      words: stateText(table, state),
      visited: visits.states[state] === 1,
    })),
    transitions: reachable.flatMap((state) =>
      transitionsFrom(table, state, { among: inputs(state), visits }),
    ),
  };
}

function transitionsFrom(
  table: LogicTable,
  state: number,
  { among, visits }: { readonly among: readonly number[]; readonly visits: Visits },
): readonly TransitionItem[] {
  const alike = new Map<string, number[]>();
  for (const code of among) {
    const cell = state * inputCodes + code;
    const reads = isCheckCode(code) ? code & inputCode.checkReadsOpen : 0;
    const input = isCheckCode(code) ? 'check' : String(code);
    const key = [input, reads, table.next[cell], table.effects[cell]].join();
    alike.set(key, [...(alike.get(key) ?? []), code]);
  }
  return [...alike.values()].map((codes) => ({
    words: transitionText(table, state, { codes, among }),
    kind: kindOf(codes[0] ?? 0),
    visited: codes.some((code) => visits.reactions[state * inputCodes + code] === 1),
  }));
}

function kindOf(code: number): TransitionKind {
  if (code === inputCode.wake.reset) return 'reset';
  return code === inputCode.powerLost ? 'power' : 'course';
}
