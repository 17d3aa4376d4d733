// The one seam for what runs in the device: facts go in, the next state and what to do come out. Time stays
// outside. The XState watch, its compiled table and other logic under test all stand behind it.
import type { RetainedMemory } from './memory.js';

export type WakeCause = 'power-on' | 'reset' | 'timer' | 'contact';
export type ContactReading = 'open' | 'shut';

/** A fact the device learns. */
export type DeviceInput =
  | { readonly type: 'wake'; readonly cause: WakeCause }
  | {
      readonly type: 'check';
      readonly contact: ContactReading;
      /** No cooldown time is left on the device's clock since the last delivery (or none was ever made). */
      readonly cooldownOver: boolean;
      /** The heartbeat interval has passed on the device's clock since the last heartbeat or power-on. */
      readonly heartbeatDue: boolean;
      /** The battery is low, and the time from one low-battery message to the next has passed on the device's clock. Absent: false. */
      readonly lowBatteryDue?: boolean;
    }
  | { readonly type: 'alertAttempted'; readonly delivered: boolean }
  | { readonly type: 'heartbeatAttempted'; readonly delivered: boolean }
  | { readonly type: 'lowBatteryAttempted'; readonly delivered: boolean }
  | { readonly type: 'powerLost' };

/** Which of the watch's intervals a sleep lasts. */
export type SleepInterval = 'check' | 'recheck' | 'retry';

/** What the device does about it, in this order. */
export type DeviceEffect =
  /** A visible sign at the door: this check read open. */
  | { readonly type: 'blink' }
  /** The pending alert is given up. */
  | { readonly type: 'dropAlert' }
  | { readonly type: 'decideAlert' }
  /** Connect and send; answered by `alertAttempted`. */
  | { readonly type: 'attemptAlert' }
  /** Connect and send an 'alive' message; answered by `heartbeatAttempted`. */
  | { readonly type: 'attemptHeartbeat' }
  /**
   * Send the low-battery message. With `attemptAlert`: in the alert's connection, after it, and nothing more is said of it;
   * else connect for it alone; answered by `lowBatteryAttempted`.
   */
  | { readonly type: 'attemptLowBattery' }
  | { readonly type: 'sleep'; readonly interval: SleepInterval }
  /** Stay awake and do nothing until reset. */
  | { readonly type: 'hold' };

/** What a state is waiting for, and so which inputs make sense in it. */
export type Phase =
  | 'off'
  | 'awake'
  | 'sendingAlert'
  | 'sendingHeartbeat'
  | 'sendingLowBattery'
  | 'asleep'
  | 'holding';

/** Logic for the device: pure, and the same for the same state and input. */
export interface DeviceLogic<State> {
  /** The state without power. */
  readonly initial: State;
  react(
    state: State,
    input: DeviceInput,
  ): { readonly state: State; readonly effects: readonly DeviceEffect[] };
  /** The plainest input that this state reacts to just as to this one: facts it does not look at are set aside. */
  plainest(state: State, input: DeviceInput): DeviceInput;
  phase(state: State): Phase;
  /** Retained memory, for people and traces. */
  memory(state: State): RetainedMemory;
  /** Two states with the same key behave alike for ever. */
  key(state: State): string;
}
