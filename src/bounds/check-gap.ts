// The longest time between two checks of a device that nobody resets and that has power, whatever its state: a sleep, the boot
// after it, and before it the attempts to send of the first check, which take longest where the network is down.
import { greatestOf, itemAt } from '../base/index.js';
import {
  effectBit,
  effectCell,
  inputCode,
  inputsInTime,
  isCheckCode,
  type LogicTable,
  nextState,
  type PossibleInputs,
  reachableStates,
  sleepIn,
} from '../machine/index.js';
import type { TimingRanges } from '../model/index.js';
import type { Program } from '../sim/index.js';
import { timesOf } from './times.js';

/** Null: no check is ever followed by a sleep. */
export function longestCheckGapMs(program: Program, timing: TimingRanges): number | null {
  const { table, watch } = program;
  const { bootMs, connectMs, joinWaitMs, sleeps } = timesOf(watch, timing);
  const inputs = inputsInTime(program);
  const gapsMs = reachableStates(table, inputs)
    .filter((state) => itemAt(table.phases, state) === 'awake')
    .flatMap((state) => afterInputs({ table, inputs }, state, 0))
    .map(({ sleep, sends }) => {
      return sends * (connectMs.most + joinWaitMs) + itemAt(sleeps, sleep).mostMs + bootMs.most;
    });
  return gapsMs.length === 0 ? null : greatestOf(gapsMs);
}

const attempts = effectBit.attemptAlert | effectBit.attemptHeartbeat | effectBit.attemptLowBattery;

/** Whether a column is the end of an attempt to send. */
function isAnswerCode(code: number): boolean {
  return code >= inputCode.alertFailed && code <= inputCode.lowBatteryDelivered;
}

interface Ended {
  readonly sleep: 0 | 1 | 2;
  /** Attempts to send before it. */
  readonly sends: number;
}

/** How the work of a wake can end, from a state in it on; a wake that ends with a hold makes no further check. */
function afterInputs(
  on: { readonly table: LogicTable; readonly inputs: PossibleInputs },
  state: number,
  sends: number,
): readonly Ended[] {
  const { table, inputs } = on;
  const isAwake = itemAt(table.phases, state) === 'awake';
  return inputs(state).flatMap((code): readonly Ended[] => {
    if (isAwake ? !isCheckCode(code) : !isAnswerCode(code)) return [];
    const effects = effectCell(table, state, code);
    const sleep = sleepIn(effects);
    if (sleep !== null) return [{ sleep, sends }];
    if ((effects & attempts) === 0) return [];
    return afterInputs(on, nextState(table, state, code), sends + 1);
  });
}
