// What a proof is held against: the watch's own statechart, every time that it may take, and what may go wrong around
// it. Worked out anew from the watch file: nothing of it is taken from the certificate but the environment.
import { atLeastMs, type DeviceMs, lastsMs, ppm } from '../base/index.js';
import type { SleepInterval, WatchSettings } from '../machine/index.js';
import type { DeviceTiming, VaryingMs } from '../world/index.js';
import { type Machine, machineOf } from './machine.js';
import type { Range, Sleep } from './readings.js';

/** The most that may go wrong. */
export interface Environment {
  /** One outage, from the first failed send until its end; 0 for none. */
  readonly longestOutageMs: number;
  readonly powerLosses: number;
  readonly longestPowerLossMs: number;
  readonly resets: number;
  /** One stretch in which the contact of an open door may read shut; 0 for none. */
  readonly longestChatterMs: number;
}

/** The device's times as a certificate states them. */
export interface Device {
  readonly bootMs: Range;
  readonly connectMs: Range;
  readonly clockErrorPpm: Range;
}

export interface Rules {
  readonly machine: Machine;
  readonly watch: WatchSettings;
  readonly boot: Range;
  readonly connect: Range;
  readonly sleeps: Readonly<Record<SleepInterval, Sleep>>;
  /** What the cooldown's clock must read for the cooldown to be over. */
  readonly cooldownMs: number;
  /** Infinity: no heartbeats. */
  readonly heartbeatMs: number;
  readonly environment: Environment;
}

/** Null where the times are not ranges: sleeps that are listed one by one. */
export function deviceOf(timing: DeviceTiming): Device | null {
  const { clockError } = timing;
  const times = { bootMs: rangeOf(timing.bootTime), connectMs: rangeOf(timing.connectTime) };
  switch (clockError.kind) {
    case 'fixed':
      return { ...times, clockErrorPpm: spanOf([clockError.ppm]) };
    case 'drawn':
      return { ...times, clockErrorPpm: spanOf([clockError.leastPpm, clockError.greatestPpm]) };
    case 'curve':
      return { ...times, clockErrorPpm: spanOf(clockError.steps.map((step) => step.ppm)) };
    case 'inTurn':
      return { ...times, clockErrorPpm: spanOf(clockError.ppm) };
    case 'sleeps':
      return null;
  }
}

function rangeOf(varying: VaryingMs): Range {
  if (varying.kind === 'range') return { least: varying.leastMs, most: varying.greatestMs };
  return spanOf(varying.kind === 'fixed' ? [varying.ms] : varying.ms);
}

function spanOf(values: readonly number[]): Range {
  return { least: Math.min(...values), most: Math.max(...values) };
}

/**
 * With one clock error all that the device times is stretched by it, and its clock reads true time. Where each sleep may
 * err differently, the device counts a whole sleep at its nominal length.
 */
export function rulesOf(watch: WatchSettings, device: Device, environment: Environment): Rules {
  const [least, most] = [ppm(device.clockErrorPpm.least), ppm(device.clockErrorPpm.most)];
  const timer = (ms: DeviceMs): number => (least === most ? atLeastMs(ms, least) : ms);
  const sleep = (ms: DeviceMs): Sleep => ({
    least: lastsMs(ms, least),
    most: lastsMs(ms, most),
    counted: least === most ? lastsMs(ms, least) : ms,
  });
  const { heartbeatIntervalMs: heartbeat } = watch;
  return {
    machine: machineOf(watch),
    watch,
    boot: device.bootMs,
    connect: device.connectMs,
    sleeps: {
      check: sleep(watch.checkIntervalMs),
      recheck: sleep(watch.recheckIntervalMs),
      retry: sleep(watch.retryIntervalMs),
    },
    cooldownMs: timer(watch.alertCooldownMs),
    heartbeatMs: heartbeat === null ? Number.POSITIVE_INFINITY : timer(heartbeat),
    environment: {
      longestOutageMs: environment.longestOutageMs,
      powerLosses: environment.powerLosses,
      longestPowerLossMs: environment.longestPowerLossMs,
      resets: environment.resets,
      longestChatterMs: environment.longestChatterMs,
    },
  };
}
