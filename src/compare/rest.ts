// How long a shut door brings the device to rest, whatever it did before: from then on nothing that happened earlier matters, but for
// a cooldown that still runs and an alert that it holds after.
import { greatestOf } from '../base/index.js';
import {
  impossible,
  inputCode,
  inputCodes,
  type LogicTable,
  nextState,
  type WatchSettings,
} from '../machine/index.js';
import { mostRestRounds, nominalSleeps } from '../model/index.js';
import type { Program } from '../sim/index.js';
import { clockErrorRangeOf, type DeviceTiming, rangeMsOf } from '../world/index.js';

/** The longest time from one wake to the next, with all that it sends. */
export function longestPeriodMs(watch: WatchSettings, timing: DeviceTiming): number {
  const slow = 1 + clockErrorRangeOf(timing.clockError).most / 1e6;
  const sleepMs = Math.ceil(greatestOf(nominalSleeps(watch)) * slow);
  // At most an alert and a heartbeat in one wake.
  const sendMs = rangeMsOf(timing.connectTime).most + timing.joinWaitMs;
  return sleepMs + rangeMsOf(timing.bootTime).most + 2 * sendMs;
}

/** With the network up and no cooldown running. @returns null: no number of shut checks does it. */
export function restAfterMs({ table, watch }: Program, timing: DeviceTiming): number | null {
  const checks = checksToRest(table, watch);
  // One more, since the door is shut at any moment between two checks.
  return checks === null ? null : (checks + 1) * longestPeriodMs(watch, timing);
}

/** Shut checks in a row after which every sleeping device is in one and the same state. */
function checksToRest(table: LogicTable, watch: WatchSettings): number | null {
  let states = new Set<number>();
  for (let state = 0; state < table.phases.length; state += 1) {
    if (table.phases[state] === 'asleep') states.add(state);
  }
  for (let checks = 0; checks <= mostRestRounds; checks += 1) {
    if (states.size <= 1) return checks;
    const next = new Set<number>();
    for (const state of states) afterShutCheck(table, watch, state, next);
    states = next;
  }
  return null;
}

/** Adds the sleeping states that a check of a shut door leads to; a device that holds is not asleep. */
function afterShutCheck(
  table: LogicTable,
  watch: WatchSettings,
  state: number,
  into: Set<number>,
): void {
  const awake = nextState(table, state, inputCode.wake.timer);
  const beats = watch.heartbeats ? [0, inputCode.checkHeartbeatDue] : [0];
  const lows = watch.lowBattery === undefined ? [0] : [0, inputCode.checkLowBatteryDue];
  for (const beat of beats) {
    for (const low of lows) {
      const code = inputCode.check + inputCode.checkCooldownOver + beat + low;
      let to = nextState(table, awake, code);
      // Each send ends in another one at most twice: an alert, a heartbeat, a low-battery message.
      for (let sends = 0; sends < 3; sends += 1) to = afterSend(table, to);
      if (table.phases[to] === 'asleep') into.add(to);
    }
  }
}

function afterSend(table: LogicTable, state: number): number {
  const { alertDelivered, heartbeatDelivered, lowBatteryDelivered } = inputCode;
  const code = [alertDelivered, heartbeatDelivered, lowBatteryDelivered].find(
    (one) => (table.next[state * inputCodes + one] ?? impossible) !== impossible,
  );
  return code === undefined ? state : nextState(table, state, code);
}
