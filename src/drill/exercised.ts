// How much of a watch a drill shows, and what it leaves out, in words. Resets and power losses in the moments in which the
// device is awake do not count: no hand hits them.
import { itemAt } from '../base/index.js';
import { inputText } from '../coverage/index.js';
import type { AutomatonState } from '../emit/index.js';
import { inputCode, inputCodes, isCheckCode } from '../machine/index.js';
import type { Exercised } from './plan.js';
import { reactionAt, type Stage } from './stage.js';

/** @param shown numbers of reactions. */
export function exercisedOf(
  stage: Stage,
  shown: ReadonlySet<number>,
): { readonly states: Exercised; readonly transitions: Exercised } {
  const { automaton, question } = stage;
  const transitions = new Map<number, string>();
  const reached = new Set([0]);
  const cools = question.program.watch.alertCooldownMs > 0;
  for (const [number, state] of automaton.states.entries()) {
    for (let code = 0; code < inputCodes; code += 1) {
      const reaction = itemAt(state.reactions, code);
      if (reaction === null || isBeyondHands(state, code)) continue;
      if (code === inputCode.wake.reset && question.reset.button !== 'keeps') continue;
      if (!cools && isCheckCode(code) && (code & inputCode.checkCooldownOver) === 0) continue;
      const key = reactionAt(stage, number, code);
      if (shown.has(key)) reached.add(reaction.to);
      if (!transitions.has(key)) transitions.set(key, `${state.meaning} | ${inputWords(code)}`);
    }
  }
  const leftStates = automaton.states.filter((_, number) => !reached.has(number));
  const left = [...transitions].filter(([key]) => !shown.has(key)).map(([, words]) => words);
  return {
    states: counted(
      automaton.states.length,
      leftStates.map(({ meaning }) => meaning),
    ),
    transitions: counted(transitions.size, left),
  };
}

function counted(total: number, left: readonly string[]): Exercised {
  return { total, exercised: total - left.length, left };
}

function isBeyondHands({ phase }: AutomatonState, code: number): boolean {
  const byHand = code === inputCode.wake.reset || code === inputCode.powerLost;
  return byHand && phase !== 'asleep' && phase !== 'holding';
}

function inputWords(code: number): string {
  const named = inputText(code);
  if (named !== null) return named;
  const reads = (code & inputCode.checkReadsOpen) === 0 ? 'reads shut' : 'reads open';
  const running = (code & inputCode.checkCooldownOver) === 0 ? ', cooldown running' : '';
  const due = (code & inputCode.checkHeartbeatDue) === 0 ? '' : ', heartbeat due';
  return `${reads}${running}${due}`;
}
