// A device with which nothing goes wrong and whose times are all fixed: from a check on it has one run, but for
// where the door opens.
import { itemAt } from '../../base/index.js';
import {
  effectBit,
  inputCode,
  inputCodes,
  type LogicTable,
  sleepIn,
  type WakeCause,
} from '../../machine/index.js';
import type { SleepRange } from '../../model/index.js';
import type { Times } from '../times.js';

/** The ends of their ranges at which the times of a device stay. */
export interface Ends {
  readonly boot: 'least' | 'most';
  readonly connect: 'least' | 'most';
  readonly clock: 'leastMs' | 'mostMs';
}

export interface CalmDevice {
  readonly table: LogicTable;
  readonly bootMs: number;
  readonly connectMs: number;
  readonly sleeps: readonly { readonly lastsMs: number; readonly countedMs: number }[];
  /** Infinity: no heartbeats. */
  readonly heartbeatMs: number;
}

export function calmDevice(table: LogicTable, times: Times, ends: Ends): CalmDevice {
  const sleep = (range: SleepRange) => ({
    lastsMs: range[ends.clock],
    countedMs: range.countedMs,
  });
  return {
    table,
    bootMs: times.bootMs[ends.boot],
    connectMs: times.connectMs[ends.connect],
    sleeps: times.sleeps.map(sleep),
    heartbeatMs: times.heartbeatMs,
  };
}

/** A check that was made. */
export interface CalmCheck {
  /** State of the logic after it. */
  readonly state: number;
  readonly effects: number;
}

/** The sleep after a check; times count from the check. */
export interface CalmSleep {
  readonly state: number;
  readonly beats: boolean;
  /** When the device falls asleep. */
  readonly fromMs: number;
  readonly lastsMs: number;
  readonly countedMs: number;
}

/** What a check does. */
export function checked(
  { table }: CalmDevice,
  awake: number,
  reads: { readonly open: boolean; readonly due: boolean },
): CalmCheck {
  const code =
    inputCode.check +
    inputCode.checkCooldownOver +
    (reads.open ? inputCode.checkReadsOpen : 0) +
    (reads.due ? inputCode.checkHeartbeatDue : 0);
  const cell = awake * inputCodes + code;
  return { state: table.next[cell] ?? 0, effects: table.effects[cell] ?? 0 };
}

/** How a check ends; null: awake until a reset. */
export function sleepAfter(device: CalmDevice, { state, effects }: CalmCheck): CalmSleep | null {
  const { table, connectMs } = device;
  const beats = (effects & effectBit.attemptHeartbeat) !== 0;
  const sends = beats || (effects & effectBit.attemptAlert) !== 0;
  const code = beats ? inputCode.heartbeatDelivered : inputCode.alertDelivered;
  const cell = state * inputCodes + code;
  const ended = sends
    ? { state: table.next[cell] ?? 0, effects: table.effects[cell] ?? 0 }
    : { state, effects };
  const which = sleepIn(ended.effects);
  if (which === null) return null;
  const { lastsMs, countedMs } = itemAt(device.sleeps, which);
  return {
    state: ended.state,
    beats,
    fromMs: sends ? connectMs : 0,
    lastsMs,
    countedMs,
  };
}

export function woken({ table }: CalmDevice, asleep: number, cause: WakeCause): number {
  return table.next[asleep * inputCodes + inputCode.wake[cause]] ?? 0;
}
