// What may go wrong around a watch while its bounds are sought.
import { atLeastMs, type DeviceMs, invariant, lastsMs } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import { clockErrorRangeOf, type DeviceTiming, type RangeMs, rangeMsOf } from '../world/index.js';

/** The most that the environment does. Its powers are budgets: they may be used at the worst moment, or not. */
export interface Environment {
  /** At most so many network outages. */
  readonly outages: number;
  /** From the end of one to the beginning of the next at least; with 0, one may begin as another ends. */
  readonly outagesApartMs: number;
  /** How long each may last at most; 0 for none. */
  readonly longestOutageMs: number;
  readonly powerLosses: number;
  /** How long the power may stay away each time; at least 1 ms where there are losses. */
  readonly longestPowerLossMs: number;
  readonly resets: number;
  /** One stretch of at most this length in which the contact may read shut though the door is open; 0 for none. */
  readonly longestChatterMs: number;
}

/** A network that is always up, power that never fails, a contact that reads true. */
export const calmEnvironment: Environment = {
  outages: 1,
  outagesApartMs: 0,
  longestOutageMs: 0,
  powerLosses: 0,
  longestPowerLossMs: 1,
  resets: 0,
  longestChatterMs: 0,
};

/** A range of durations, with no time at all as a case of its own. */
export function momentOrStretch({ least, most }: RangeMs): readonly RangeMs[] {
  if (least > 0 || most === 0) return [{ least, most }];
  return [
    { least: 0, most: 0 },
    { least: 1, most },
  ];
}

/** A nominal sleep: its true length, and what the device's clock counts for it. */
export interface SleepRange {
  readonly leastMs: number;
  readonly mostMs: number;
  readonly countedMs: number;
}

/** Every time that matters to the search, in the clock it is compared on. */
export interface Times {
  readonly bootMs: RangeMs;
  readonly connectMs: RangeMs;
  /** Check, recheck, retry. */
  readonly sleeps: readonly [SleepRange, SleepRange, SleepRange];
  readonly cooldownMs: number;
  /** Infinity: no heartbeats. */
  readonly heartbeatMs: number;
}

/**
 * The times of a watch. With one clock error, device timers are compared in true time, stretched by it; with a range
 * of errors each sleep may take any length in it, and the device counts its nominal length.
 */
export function timesOf(watch: WatchSettings, timing: DeviceTiming): Times {
  const { least, most } = clockErrorRangeOf(timing.clockError);
  invariant(least <= most, 'a range of clock errors is not upside down', { least, most });
  const one = least === most;
  const sleep = (nominalMs: DeviceMs): SleepRange => {
    const leastMs = lastsMs(nominalMs, least);
    const mostMs = lastsMs(nominalMs, most);
    return { leastMs, mostMs, countedMs: one ? leastMs : nominalMs };
  };
  const timer = (nominalMs: DeviceMs): number => (one ? atLeastMs(nominalMs, least) : nominalMs);
  return {
    bootMs: rangeMsOf(timing.bootTime),
    connectMs: rangeMsOf(timing.connectTime),
    sleeps: [
      sleep(watch.checkIntervalMs),
      sleep(watch.recheckIntervalMs),
      sleep(watch.retryIntervalMs),
    ],
    cooldownMs: timer(watch.alertCooldownMs),
    heartbeatMs:
      watch.heartbeatIntervalMs === null
        ? Number.POSITIVE_INFINITY
        : timer(watch.heartbeatIntervalMs),
  };
}
