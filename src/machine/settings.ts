// What the owner chooses about the watch. Intervals are nominal: the device counts them on its own clock.
import type { DeviceMs } from '../base/index.js';

/** How many open checks, among how many of the last checks, decide an alert. */
export interface EscalationThreshold {
  readonly open: number;
  readonly outOf: number;
}

/** When the battery counts as low: by the share left of the usable charge, or by the voltage of the cells at rest. */
export type LowBatteryLevel =
  | { readonly kind: 'share'; readonly sharePpm: number }
  | { readonly kind: 'voltage'; readonly voltageMv: number };

/** The low-battery message. */
export interface LowBatteryMessage {
  readonly level: LowBatteryLevel;
  /** From the delivery of one to the next, on the device's clock. */
  readonly repeatMs: DeviceMs;
}

/** The settings that shape decisions: the state machine reads these and nothing else. */
export interface LogicSettings {
  readonly escalationThreshold: EscalationThreshold;
  /** Shut checks in a row after which the door counts as shut again. */
  readonly clearThreshold: number;
  readonly cooldownEndsWhenShut: boolean;
  readonly afterAlert: 'keep-watching' | 'hold-until-reset';
  /** Failed attempts in a row before the device falls back from the retry interval to the check interval. */
  readonly retryAttempts: number;
  readonly unsentWhenShut: 'send' | 'drop';
  /** Whether there are heartbeats at all; when they are due is a fact from outside. */
  readonly heartbeats: boolean;
  /** Absent: there is no low-battery message. When one is due is a fact from outside. */
  readonly lowBattery?: LowBatteryMessage;
}

/**
 * What the logic reads, as text: settings with the same have the same table. The compiler asks for every setting of the logic,
 * since a table that is kept under a shorter key would be taken for another watch.
 */
export function logicKey(logic: LogicSettings): string {
  const { open, outOf } = logic.escalationThreshold;
  const read: { readonly [Key in keyof Required<LogicSettings>]: string | number | boolean } = {
    escalationThreshold: `${String(open)}/${String(outOf)}`,
    clearThreshold: logic.clearThreshold,
    cooldownEndsWhenShut: logic.cooldownEndsWhenShut,
    afterAlert: logic.afterAlert,
    retryAttempts: logic.retryAttempts,
    unsentWhenShut: logic.unsentWhenShut,
    heartbeats: logic.heartbeats,
    // At which level and how often it warns are facts from outside.
    lowBattery: logic.lowBattery !== undefined,
  };
  return Object.values(read).join(' ');
}

/** The `watch:` section: the logic, the lengths of its sleeps, and what wakes it. */
export interface WatchSettings extends LogicSettings {
  /** Sleep between checks. */
  readonly checkIntervalMs: DeviceMs;
  /** Sleep after an open check that is not yet an alert. */
  readonly recheckIntervalMs: DeviceMs;
  /** Sleep after a failed attempt. */
  readonly retryIntervalMs: DeviceMs;
  /** Quiet time after a delivered alert; 0 for none. */
  readonly alertCooldownMs: DeviceMs;
  readonly wakeOn: WakeOn;
  /** Time between 'alive' messages; null for none. */
  readonly heartbeatIntervalMs: DeviceMs | null;
}

/** Besides the timer, which contact edges wake the device: none, shut-to-open ones, or all. */
export type WakeOn = 'timer' | 'opening' | 'any-change';
