// What a watch can come to, and what of it was visited. Reactions that do the same and lead to the same count once;
// inputs that cannot come with the settings do not count.
import { inputCode, inputCodes, type LogicTable, type WatchSettings } from '../machine/index.js';
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
  const reachable = reachableStates(table, watch);
  return {
    states: reachable.map((state) => ({
      words: stateText(table, state),
      visited: visits.states[state] === 1,
    })),
    transitions: reachable.flatMap((state) => transitionsFrom({ table, watch }, state, visits)),
  };
}

function reachableStates(table: LogicTable, watch: WatchSettings): readonly number[] {
  const states = [table.initial];
  const seen = new Set(states);
  for (const state of states) {
    for (const code of codesThatCome(table, watch, state)) {
      const next = table.next[state * inputCodes + code] ?? table.initial;
      if (seen.has(next)) continue;
      seen.add(next);
      states.push(next);
    }
  }
  return states;
}

/** The columns of the inputs that can come to a state with these settings. */
function codesThatCome(table: LogicTable, watch: WatchSettings, state: number): readonly number[] {
  const codes: number[] = [];
  const cooldown = table.memories[state]?.coolingDown === true && watch.alertCooldownMs > 0;
  for (let code = 0; code < inputCodes; code += 1) {
    if ((table.next[state * inputCodes + code] ?? -1) < 0) continue;
    if (code === inputCode.wake.contact && watch.wakeOn === 'timer') continue;
    if (code >= inputCode.check && code < inputCode.powerLost) {
      const facts = code - inputCode.check;
      const due = (facts & inputCode.checkHeartbeatDue) !== 0;
      const running = (facts & inputCode.checkCooldownOver) === 0;
      if ((due && !watch.heartbeats) || (running && !cooldown)) continue;
    }
    codes.push(code);
  }
  return codes;
}

function transitionsFrom(
  { table, watch }: Program,
  state: number,
  visits: Visits,
): readonly TransitionItem[] {
  const alike = new Map<string, number[]>();
  const among = codesThatCome(table, watch, state);
  for (const code of among) {
    const cell = state * inputCodes + code;
    const reads = code >= inputCode.check && code < inputCode.powerLost ? code & 1 : 0;
    const input = code >= inputCode.check && code < inputCode.powerLost ? 'check' : String(code);
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
