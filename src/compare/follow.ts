// The machine led along a device log: each row is an input, and what the machine wants next is held against what the
// log says next.
import { itemAt } from '../base/index.js';
import {
  effectBit,
  effectCell,
  inputCode,
  nextState,
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
}

export interface Follower {
  readonly differences: readonly AlertDifference[];
  /** The sleep that runs; null: none was ordered. */
  asleep(): OrderedSleep | null;
  /** @param next the row after it: it tells which side of its end a cooldown was on. */
  take(row: DeviceLogRow, next: DeviceLogRow | undefined): void;
  end(): void;
}

/** So near to its end a cooldown may be over or not, since the device's clock errs. */
const doubtfulShare = 0.05;

export function openFollower({ table, watch }: Program): Follower {
  const differences: AlertDifference[] = [];
  let state = table.initial;
  let sleep: OrderedSleep | null = null;
  let deliveredMs = Number.NEGATIVE_INFINITY;
  let heartbeatMs = 0;
  let checkedMs = 0;
  /** The check at which an alert that the device does not send was first owed. */
  let owed = false;
  const phase = () => itemAt(table.phases, state);
  const react = (code: number, atMs: number): number => {
    const effects = effectCell(table, state, code);
    state = nextState(table, state, code);
    const nominalMs = sleepMs(effects, watch);
    sleep = nominalMs === null ? null : { fromMs: atMs, nominalMs };
    return effects;
  };
  const powerOn = (atMs: number): void => {
    state = table.initial;
    react(inputCode.wake['power-on'], atMs);
    deliveredMs = Number.NEGATIVE_INFINITY;
    heartbeatMs = atMs;
    owed = false;
  };
  /** The log goes on though the machine waits for the end of a send: the device sent nothing. */
  const giveUpSend = (): void => {
    if (phase() === 'sendingHeartbeat') react(inputCode.heartbeatFailed, checkedMs);
    if (phase() !== 'sendingAlert') return;
    if (!owed) differences.push({ atMs: checkedMs, kind: 'not-sent' });
    owed = true;
    react(inputCode.alertFailed, checkedMs);
    // How long a device sleeps that did not do what it should have done is anybody's guess.
    sleep = null;
  };
  const wake = (atMs: number): void => {
    giveUpSend();
    if (phase() === 'off') powerOn(atMs);
    else if (phase() === 'asleep') react(inputCode.wake.timer, atMs);
    else if (phase() === 'holding') react(inputCode.wake.reset, atMs);
  };
  const check = (row: DeviceLogRow & { event: 'check' }, next: DeviceLogRow | undefined): void => {
    wake(row.atMs);
    checkedMs = row.atMs;
    const elapsedMs = row.atMs - deliveredMs;
    const doubtful =
      Math.abs(elapsedMs - watch.alertCooldownMs) <= doubtfulShare * watch.alertCooldownMs;
    const over = doubtful ? next?.event === 'alert' : elapsedMs >= watch.alertCooldownMs;
    const beats = watch.heartbeatIntervalMs !== null && next?.event === 'heartbeat';
    react(
      inputCode.check +
        (row.contact === 'open' ? inputCode.checkReadsOpen : 0) +
        (over ? inputCode.checkCooldownOver : 0) +
        (beats && row.atMs > heartbeatMs ? inputCode.checkHeartbeatDue : 0),
      row.atMs,
    );
  };
  return {
    differences,
    asleep: () => (phase() === 'asleep' ? sleep : null),
    take(row, next) {
      switch (row.event) {
        case 'power-on':
          giveUpSend();
          powerOn(row.atMs);
          return;
        case 'reset':
          giveUpSend();
          if (phase() === 'off') powerOn(row.atMs);
          else react(inputCode.wake.reset, row.atMs);
          return;
        case 'check':
          check(row, next);
          return;
        case 'alert':
          if (phase() !== 'sendingAlert') {
            differences.push({ atMs: row.atMs, kind: 'sent-without-reason' });
            return;
          }
          react(row.delivered ? inputCode.alertDelivered : inputCode.alertFailed, row.atMs);
          if (row.delivered) deliveredMs = row.atMs;
          owed = false;
          return;
        case 'heartbeat':
          heartbeatMs = row.atMs;
          if (phase() !== 'sendingHeartbeat') return;
          react(row.delivered ? inputCode.heartbeatDelivered : inputCode.heartbeatFailed, row.atMs);
      }
    },
    end: giveUpSend,
  };
}

function sleepMs(effects: number, watch: WatchSettings): number | null {
  switch (effects & effectBit.sleepMask) {
    case effectBit.sleepCheck:
      return watch.checkIntervalMs;
    case effectBit.sleepRecheck:
      return watch.recheckIntervalMs;
    case effectBit.sleepRetry:
      return watch.retryIntervalMs;
    default:
      return null;
  }
}
