// Every time that matters to the search, in the clock it is compared on.
import type { WatchSettings } from '../machine/index.js';
import {
  type RangeMs,
  type SleepRange,
  sleepsOf,
  type TimingRanges,
  timerMs,
} from '../model/index.js';

/** A range of durations, with no time at all as a case of its own. */
export function momentOrStretch({ least, most }: RangeMs): readonly RangeMs[] {
  if (least > 0 || most === 0) return [{ least, most }];
  return [
    { least: 0, most: 0 },
    { least: 1, most },
  ];
}

export interface Times {
  readonly bootMs: RangeMs;
  readonly connectMs: RangeMs;
  /** How long at most an attempt waits for the network after it. */
  readonly joinWaitMs: number;
  /** Check, recheck, retry. */
  readonly sleeps: readonly [SleepRange, SleepRange, SleepRange];
  readonly cooldownMs: number;
  /** Infinity: no heartbeats. */
  readonly heartbeatMs: number;
  /** From one low-battery message to the next; Infinity: there are none. */
  readonly lowBatteryMs: number;
}

/**
 * The times of a watch. With one clock error, device timers are compared in true time, stretched by it; with a range
 * of errors each sleep may take any length in it, and the device counts its nominal length.
 */
export function timesOf(watch: WatchSettings, timing: TimingRanges): Times {
  return {
    bootMs: timing.bootTime,
    connectMs: timing.connectTime,
    joinWaitMs: timing.joinWaitMs,
    sleeps: sleepsOf(watch, timing),
    cooldownMs: timerMs(watch.alertCooldownMs, timing),
    heartbeatMs:
      watch.heartbeatIntervalMs === null
        ? Number.POSITIVE_INFINITY
        : timerMs(watch.heartbeatIntervalMs, timing),
    lowBatteryMs:
      watch.lowBattery === undefined
        ? Number.POSITIVE_INFINITY
        : timerMs(watch.lowBattery.repeatMs, timing),
  };
}
