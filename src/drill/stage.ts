// What stays the same while a drill is made: the watch, its corners, and what there is to show, by number.
import { type DeviceMs, greatestOf, itemAt, lastsMs, ppm } from '../base/index.js';
import { type Automaton, automatonOf } from '../emit/index.js';
import { inputCode, inputCodes, isCheckCode } from '../machine/index.js';
import { longestSleepMs } from '../model/index.js';
import { clockErrorRangeOf, type DeviceTiming, rangeMsOf } from '../world/index.js';
import { type Corner, cornersOf } from './corners.js';
import type { DrillQuestion } from './plan.js';

export interface Stage {
  readonly question: DrillQuestion;
  readonly corners: readonly Corner[];
  readonly automaton: Automaton;
  /** The number of each reaction, by `state × inputCodes + code`; −1 where the input cannot come. */
  readonly reactions: Int32Array;
  readonly reactionCount: number;
  /** Within this, whatever the device does next has happened. */
  readonly horizonMs: number;
  /** How far from its time a message may be noted, and the power be taken out at the end. */
  readonly noteToleranceMs: number;
}

/** @param noteToleranceMs default: as for what is done at the door. */
export function stageOf(
  question: DrillQuestion,
  noteToleranceMs: number = question.toleranceMs,
): Stage {
  const { program, timing, toleranceMs } = question;
  const corners = cornersOf(timing, toleranceMs);
  const sleepMs = longestSleepMs(program.watch);
  const automaton = automatonOf(program);
  return {
    question,
    corners,
    automaton,
    ...reactionsOf(automaton),
    noteToleranceMs,
    horizonMs: greatestOf(corners.map((corner) => longestWakeMs(corner.timing, sleepMs))),
  };
}

/** A sleep and all that may come around it, in a device of a corner. */
function longestWakeMs(
  { bootTime, connectTime, joinWaitMs, clockError }: DeviceTiming,
  sleepMs: DeviceMs,
): number {
  const awakeMs = rangeMsOf(bootTime).most + rangeMsOf(connectTime).most + joinWaitMs;
  return lastsMs(sleepMs, ppm(clockErrorRangeOf(clockError).most)) + 2 * awakeMs + spareMs;
}

/** Beyond all that a device does in a wake. */
const spareMs = 20_000;

/** Inputs that lead a state to the same by the same are one; checks differ by what they read. */
function reactionsOf(automaton: Automaton): Pick<Stage, 'reactions' | 'reactionCount'> {
  const reactions = new Int32Array(automaton.states.length * inputCodes).fill(-1);
  let reactionCount = 0;
  for (const [number, state] of automaton.states.entries()) {
    const numbers = new Map<string, number>();
    for (let code = 0; code < inputCodes; code += 1) {
      const reaction = itemAt(state.reactions, code);
      if (reaction === null) continue;
      const input = isCheckCode(code)
        ? `check ${String(code & inputCode.checkReadsOpen)}`
        : String(code);
      const key = `${input},${String(reaction.to)},${String(reaction.effects)}`;
      const known = numbers.get(key) ?? reactionCount;
      if (known === reactionCount) reactionCount += 1;
      numbers.set(key, known);
      reactions[number * inputCodes + code] = known;
    }
  }
  return { reactions, reactionCount };
}

/** The number of what a state does on an input that can come to it. */
export function reactionAt({ reactions }: Stage, state: number, code: number): number {
  return reactions[state * inputCodes + code] ?? -1;
}
