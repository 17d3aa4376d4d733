// What the owner chooses about the watch. Intervals are nominal: the device counts them on its own clock.
import type { DeviceMs } from '../base/index.js';

/** How many open checks, among how many of the last checks, decide an alert. */
export interface EscalationThreshold {
  readonly open: number;
  readonly outOf: number;
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
