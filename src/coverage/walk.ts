// A trace walked through the table that it came from: which states the logic was in, and which reactions it made.
import { invariant } from '../base/index.js';
import { codeOf, inputCode, inputCodes, type LogicTable } from '../machine/index.js';
import type { Trace, WakeRecord } from '../sim/index.js';

/** Marks of what was visited: a state, and a reaction by `state × inputCodes + input code`. */
export interface Visits {
  readonly states: Uint8Array;
  readonly reactions: Uint8Array;
}

export function noVisits(table: LogicTable): Visits {
  const count = table.phases.length;
  return { states: new Uint8Array(count), reactions: new Uint8Array(count * inputCodes) };
}

/**
 * Marks what a run visited.
 * @param trace of a run of that table, with all its wakes.
 * @throws InvariantError when the trace is of another table.
 */
export function visit(table: LogicTable, trace: Trace, visits: Visits): void {
  let state = table.initial;
  visits.states[state] = 1;
  const react = (code: number): void => {
    const cell = state * inputCodes + code;
    const next = table.next[cell] ?? -1;
    invariant(next >= 0, 'a trace is of the table it is walked through', { state, code });
    visits.reactions[cell] = 1;
    visits.states[next] = 1;
    state = next;
  };
  for (const [index, wake] of trace.wakes.entries()) {
    for (const code of inputsOf(wake, index)) react(code);
  }
}

/**
 * Codes of the inputs that came with the wake at an index of its run: from the power loss before it, if any, on. A reset
 * that cleared memory is a power loss and a power-on to the logic.
 */
export function inputsOf(wake: WakeRecord, index: number): readonly number[] {
  if (wake.cleared === true) {
    return [inputCode.powerLost, inputCode.wake['power-on'], ...afterWake(wake)];
  }
  const lost = wake.cause === 'power-on' && index > 0 ? [inputCode.powerLost] : [];
  return [...lost, inputCode.wake[wake.cause], ...afterWake(wake)];
}

/** The inputs of a wake after the one that woke it. */
function afterWake(wake: WakeRecord): readonly number[] {
  const { check, alertSend, heartbeatSend, lowBatterySend } = wake;
  if (check === null) return [];
  const codes = [codeOf({ type: 'check', ...check })];
  const send = alertSend ?? lowBatterySend ?? heartbeatSend;
  if (send === null || send.outcome === 'cutOff') return codes;
  const type =
    alertSend !== null
      ? 'alertAttempted'
      : lowBatterySend !== null
        ? 'lowBatteryAttempted'
        : 'heartbeatAttempted';
  return [...codes, codeOf({ type, delivered: send.outcome === 'delivered' })];
}
