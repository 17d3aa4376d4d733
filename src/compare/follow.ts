// The machine led along a device log: each row is an input, and what the machine wants next is compared with what the
// log says next.
import { itemAt } from '../base/index.js';
import {
  effectCell,
  inputCode,
  nextState,
  nominalSleepIn,
  sleepIn,
  type WatchSettings,
} from '../machine/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Program } from '../sim/index.js';

export interface AlertDifference {
  /** The check that should have sent, or the send without a reason. */
  readonly atMs: number;
  readonly kind: 'not-sent' | 'sent-without-reason';
}

/** What the machine ordered at the end of a wake. */
export interface OrderedSleep {
  readonly fromMs: number;
  readonly nominalMs: number;
  /** The setting that gives its length. */
  readonly setting: (typeof settings)[number];
}

/** In the order of the sleeps that effects name. */
const settings = ['checkInterval', 'recheckInterval', 'retry.interval'] as const;

/** A check after an alert that should have ended all checks until a reset. */
export interface CheckAfterHold {
  readonly alertMs: number;
  readonly atMs: number;
}

export interface Follower {
  readonly differences: readonly AlertDifference[];
  /** The first check after each alert that the watch holds after, where no reset came between. */
  readonly afterHolds: readonly CheckAfterHold[];
  /** The sleep that runs; null: none was ordered. */
  asleep(): OrderedSleep | null;
  /** @param next the row after it: it tells which side of its end a cooldown was on. */
  take(row: DeviceLogRow, next: DeviceLogRow | undefined): void;
  end(): void;
}

/** So near to its end a cooldown may be over or not, since the device's clock errs. */
const doubtfulShare = 0.05;

/** @param clears whether a reset clears retained memory. */
export function openFollower({ table, watch }: Program, clears: boolean): Follower {
  const along: Along = {
    table,
    watch,
    clears,
    differences: [],
    afterHolds: [],
    state: table.initial,
    sleep: null,
    deliveredMs: Number.NEGATIVE_INFINITY,
    heartbeatMs: 0,
    checkedMs: 0,
    owed: false,
    shutChecks: 0,
    forgotten: false,
  };
  return {
    differences: along.differences,
    afterHolds: along.afterHolds,
    asleep: () => (phaseOf(along) === 'asleep' ? along.sleep : null),
    take: (row, next) => {
      take(along, row, next);
    },
    end: () => {
      giveUpSend(along);
    },
  };
}

/** Where the machine has come to in the log. */
interface Along {
  readonly table: Program['table'];
  readonly watch: WatchSettings;
  /** Whether a reset clears retained memory: a log does not say of which kind it was. */
  readonly clears: boolean;
  readonly differences: AlertDifference[];
  readonly afterHolds: CheckAfterHold[];
  state: number;
  sleep: OrderedSleep | null;
  deliveredMs: number;
  heartbeatMs: number;
  checkedMs: number;
  /** Whether the device owes an alert that was already reported as missing. */
  owed: boolean;
  /** Checks in a row that read shut. */
  shutChecks: number;
  /** Whether the owed alert was given up, and may still come in the wake of the door's shutting. */
  forgotten: boolean;
}

function take(along: Along, row: DeviceLogRow, next: DeviceLogRow | undefined): void {
  switch (row.event) {
    case 'power-on':
      giveUpSend(along);
      powerOn(along, row.atMs);
      return;
    case 'reset':
      giveUpSend(along);
      if (along.clears || phaseOf(along) === 'off') powerOn(along, row.atMs);
      else react(along, inputCode.wake.reset, row.atMs);
      return;
    case 'check':
      check(along, row, next);
      return;
    case 'alert':
      alert(along, row);
      return;
    case 'heartbeat':
      along.heartbeatMs = row.atMs;
      if (phaseOf(along) !== 'sendingHeartbeat') return;
      react(
        along,
        row.delivered ? inputCode.heartbeatDelivered : inputCode.heartbeatFailed,
        row.atMs,
      );
      return;
    case 'low-battery':
      // After an alert it goes in the alert's connection, and the machine has gone on.
      if (phaseOf(along) !== 'sendingLowBattery') return;
      react(
        along,
        row.delivered ? inputCode.lowBatteryDelivered : inputCode.lowBatteryFailed,
        row.atMs,
      );
  }
}

function phaseOf({ table, state }: Along) {
  return itemAt(table.phases, state);
}

function react(along: Along, code: number, atMs: number): void {
  const effects = effectCell(along.table, along.state, code);
  along.state = nextState(along.table, along.state, code);
  const nominalMs = nominalSleepIn(effects, along.watch);
  const which = sleepIn(effects);
  along.sleep =
    nominalMs === null || which === null
      ? null
      : { fromMs: atMs, nominalMs, setting: settings[which] };
}

function powerOn(along: Along, atMs: number): void {
  along.state = along.table.initial;
  react(along, inputCode.wake['power-on'], atMs);
  along.deliveredMs = Number.NEGATIVE_INFINITY;
  along.heartbeatMs = atMs;
  along.owed = false;
  along.forgotten = false;
}

/** The log goes on though the machine waits for the end of a send: the device sent nothing. */
function giveUpSend(along: Along): void {
  if (phaseOf(along) === 'sendingHeartbeat') {
    react(along, inputCode.heartbeatFailed, along.checkedMs);
  }
  if (phaseOf(along) === 'sendingLowBattery') {
    react(along, inputCode.lowBatteryFailed, along.checkedMs);
  }
  if (phaseOf(along) !== 'sendingAlert') return;
  if (!along.owed) along.differences.push({ atMs: along.checkedMs, kind: 'not-sent' });
  along.owed = true;
  react(along, inputCode.alertFailed, along.checkedMs);
  // How long a device sleeps that did not do what it should have done is anybody's guess.
  along.sleep = null;
}

function wake(along: Along, { atMs, contact }: DeviceLogRow & { event: 'check' }): void {
  giveUpSend(along);
  const phase = phaseOf(along);
  if (phase === 'off') powerOn(along, atMs);
  else if (phase === 'asleep') react(along, inputCode.wake.timer, atMs);
  else if (phase === 'holding') {
    along.afterHolds.push({ alertMs: along.deliveredMs, atMs });
    react(along, inputCode.wake.reset, atMs);
    // The door that it just reported is still open: a device that does not hold need not report it again.
    if (contact === 'open') along.owed = true;
  }
}

function check(
  along: Along,
  row: DeviceLogRow & { event: 'check' },
  next: DeviceLogRow | undefined,
): void {
  const { alertCooldownMs, heartbeatIntervalMs } = along.watch;
  wake(along, row);
  along.checkedMs = row.atMs;
  const elapsedMs = row.atMs - along.deliveredMs;
  const doubtful = Math.abs(elapsedMs - alertCooldownMs) <= doubtfulShare * alertCooldownMs;
  const over = doubtful ? next?.event === 'alert' : elapsedMs >= alertCooldownMs;
  const beats = heartbeatIntervalMs !== null && next?.event === 'heartbeat';
  const isOpen = row.contact === 'open';
  along.shutChecks = isOpen ? 0 : along.shutChecks + 1;
  if (isOpen) along.forgotten = false;
  else if (next?.event !== 'alert') forgetOwed(along, row.atMs);
  react(
    along,
    inputCode.check +
      (isOpen ? inputCode.checkReadsOpen : 0) +
      (over ? inputCode.checkCooldownOver : 0) +
      (beats && row.atMs > along.heartbeatMs ? inputCode.checkHeartbeatDue : 0) +
      // A log shows no charge: the battery is low where the device says so.
      (next?.event === 'low-battery' ? inputCode.checkLowBatteryDue : 0),
    row.atMs,
  );
}

/**
 * A device that owes an alert, finds the door shut often enough and does not send has forgotten it: from here on it is in the
 * state of a door long shut. Else no later sleep would be known, since the machine would go on trying. A device whose tries
 * lie further apart than its checks may still be trying.
 */
function forgetOwed(along: Along, atMs: number): void {
  const { table, watch, owed, shutChecks } = along;
  if (!owed || shutChecks < watch.clearThreshold) return;
  if (watch.retryIntervalMs > watch.checkIntervalMs) return;
  along.state = table.initial;
  react(along, inputCode.wake['power-on'], atMs);
  along.owed = false;
  along.forgotten = true;
}

function alert(
  along: Along,
  { atMs, delivered }: { readonly atMs: number; readonly delivered: boolean },
): void {
  if (phaseOf(along) !== 'sendingAlert') {
    if (!along.forgotten) along.differences.push({ atMs, kind: 'sent-without-reason' });
    if (along.forgotten && delivered) along.deliveredMs = atMs;
    along.forgotten = false;
    return;
  }
  react(along, delivered ? inputCode.alertDelivered : inputCode.alertFailed, atMs);
  if (delivered) along.deliveredMs = atMs;
  along.owed = false;
}
