// What a run leaves behind: every alert, every wake (runs of like ones folded into one record), and totals.

import type { RetainedMemory, SleepInterval, WakeCause } from '../machine/index.js';
import type { AnswerRecord } from './answers.js';

/** How a send went: `cutOff` by a reset, a power loss, or the end of the timeline. */
export type SendOutcome = 'delivered' | 'failed' | 'cutOff';

export interface SendRecord {
  /** Present: the part at its end that it waited for the network. */
  readonly waitedMs?: number;
  readonly startMs: number;
  /** For a send that was cut off: when. */
  readonly endMs: number;
  readonly outcome: SendOutcome;
  /** Present: it was cut off, and the network would have been down at its end. It draws what a failed one does. */
  readonly wouldFail?: true;
}

export interface AlertRecord {
  /** The check that decided it. */
  readonly decidedMs: number;
  readonly deliveredMs: number | null;
  /** The shut check at which it was given up, with `unsentWhenShut: drop`. */
  readonly droppedMs: number | null;
  /** The power loss, or reset that clears, in which it was lost with all retained memory. */
  readonly forgottenMs: number | null;
  readonly attempts: readonly SendRecord[];
}

/** What a check led to. */
export type Decision =
  | 'none'
  | 'alert'
  /** A pending alert is tried again. */
  | 'attempt'
  /** Open often enough, but the cooldown of an earlier alert still runs. */
  | 'quiet'
  | 'drop';

/** One wake. */
export interface WakeRecord {
  readonly cause: WakeCause;
  readonly wakeMs: number;
  /** What the check found; null when a fault or the end of the timeline came first. */
  readonly check: CheckRecord | null;
  /** Present: there is no check, and it would have read shut. */
  readonly wouldReadShut?: true;
  /** Present: a reset that cleared retained memory caused it. */
  readonly cleared?: true;
  readonly memoryBefore: RetainedMemory;
  readonly memoryAfter: RetainedMemory;
  readonly alertSend: SendRecord | null;
  readonly heartbeatSend: SendRecord | null;
  /** The low-battery message in a connection of its own. */
  readonly lowBatterySend: SendRecord | null;
  /** Present: the low-battery message went with the alert, and fared as it did. */
  readonly lowBatteryWithAlert?: true;
  /** Null when the device did not fall asleep: it holds, or was cut off. */
  readonly sleep: SleepRecord | null;
  readonly holds: boolean;
  /** This many further wakes were just the same, one every `periodMs`. */
  readonly repeats: number;
  readonly periodMs: number;
}

/** The one send of a wake; null: it sent nothing. */
export function sendOfWake({
  alertSend,
  lowBatterySend,
  heartbeatSend,
}: Pick<WakeRecord, 'alertSend' | 'lowBatterySend' | 'heartbeatSend'>): SendRecord | null {
  return alertSend ?? lowBatterySend ?? heartbeatSend;
}

export interface CheckRecord {
  readonly atMs: number;
  readonly contact: 'open' | 'shut';
  /** The truth at that instant: the index of the opening, or null when the door was shut. */
  readonly opening: number | null;
  readonly cooldownOver: boolean;
  readonly heartbeatDue: boolean;
  readonly lowBatteryDue: boolean;
  readonly escalated: boolean;
  readonly decision: Decision;
}

export interface SleepRecord {
  readonly interval: SleepInterval;
  readonly fromMs: number;
  /** In true time, clock error included. The wake may come sooner: by a contact edge or a fault. */
  readonly lengthMs: number;
}

/** Totals of a run, exact whatever was skipped or recorded. */
export interface Tally {
  readonly checks: number;
  readonly openChecks: number;
  readonly wakes: Readonly<Record<WakeCause, number>>;
  readonly alertSends: Readonly<Record<SendOutcome, number>>;
  readonly heartbeatSends: Readonly<Record<SendOutcome, number>>;
  /** Low-battery messages in connections of their own. */
  readonly lowBatterySends: Readonly<Record<SendOutcome, number>>;
  /** From each wake to its check, or to what cut it off. */
  readonly bootMs: number;
  readonly alertSendMs: number;
  readonly heartbeatSendMs: number;
  readonly lowBatterySendMs: number;
  /** Awake in sends of any kind, after the connect time, waiting for the network; in none of the times above. */
  readonly joinWaitMs: number;
  /** Awake after an alert, doing nothing until reset. */
  readonly heldMs: number;
  /** Without power or charge, the time before the first power-on included. */
  readonly offMs: number;
  /** Of it, without charge. */
  readonly flatMs: number;
  /** Of `bootMs`, that of wakes whose check read shut, or would have. */
  readonly shutBootMs: number;
  /** Attempts of alerts and low-battery messages that found the network down at their end, or would have, and how long they lasted. */
  readonly failedSends: { readonly count: number; readonly ms: number };
  /** The clock error of the run where it is one number, else null. */
  readonly clockErrorPpm: number | null;
}

/** Somebody charged the device. */
export interface ChargeRecord {
  readonly atMs: number;
  /** What was left of the usable charge, in parts per million. */
  readonly leftPpm: number;
}

/** A low-battery message was delivered. */
export interface LowBatteryRecord {
  readonly deliveredMs: number;
  /** In an alert's connection, after it. */
  readonly withAlert: boolean;
}

/** A low-battery message was due, and how often it was tried in vain. */
export interface LowBatteryDue {
  /** The first check that found it due. */
  readonly firstMs: number;
  /** Tries in all of the run, alone or with an alert, that failed, and that something cut off. */
  readonly failed: number;
  readonly cutOff: number;
  /** The end of the last of these; null: there was none. */
  readonly lastMs: number | null;
}

export interface Trace {
  readonly lengthMs: number;
  /** In the order of their decisions. */
  readonly alerts: readonly AlertRecord[];
  /** In order; empty when nothing was to be recorded. */
  readonly wakes: readonly WakeRecord[];
  /** Within the timeline, when the device was off for want of charge; in order. */
  readonly flat: readonly { readonly fromMs: number; readonly toMs: number }[];
  /** Low-battery messages that were delivered, in order. */
  readonly lowBattery: readonly LowBatteryRecord[];
  /** Null: no check found one due. */
  readonly lowBatteryDue: LowBatteryDue | null;
  /** In order. */
  readonly charges: readonly ChargeRecord[];
  /** Who came, in order. */
  readonly answers: readonly AnswerRecord[];
  readonly tally: Tally;
}
