// What a proof is checked against: every time that the device may take, and what may go wrong around it. Worked out
// again from the watch file: only the environment is taken from the certificate.
import { atLeastMs, type DeviceMs, lastsMs, ppm } from '../base/index.js';
import type { SleepInterval, WatchSettings } from '../machine/index.js';
import { clockErrorsOf, type ResetMemory, type TimingRanges } from '../model/index.js';
import { type Activity, type Device, deviceOf } from './device.js';
import type { Environment, Times } from './format.js';
import type { Clock, Sleep, Span } from './zone.js';

const endless = Number.POSITIVE_INFINITY;

export type Fault = 'outage' | 'chatter' | 'powerLoss' | 'reset';

export interface Rules {
  readonly watch: WatchSettings;
  /** The device without power: the statechart itself. */
  readonly off: Device;
  readonly sleeps: Readonly<Record<SleepInterval, Sleep>>;
  /** How long each activity takes that nothing cuts short. */
  readonly lasts: Readonly<Record<Activity, Span | Sleep>>;
  /** From when on it no longer matters what a clock reads. */
  readonly limitMs: Readonly<Record<Exclude<Clock, 'opening'>, number>>;
  /** What a reset may do to retained memory. */
  readonly resets: Times['resets'];
  /** Faults that may begin, before any has. */
  readonly left: Readonly<Record<Fault, number>>;
}

export function timesOf(
  { bootTime, connectTime, joinWaitMs, clockError }: TimingRanges,
  reset: ResetMemory,
): Times {
  const may = (does: 'keeps' | 'clears') =>
    [reset.button, reset.watchdog, reset.software].some((said) => said === does || said === null);
  return {
    bootMs: bootTime,
    connectMs: connectTime,
    joinWaitMs,
    clockErrorPpm: clockErrorsOf(clockError),
    resets: { keep: may('keeps'), clear: may('clears') },
  };
}

/**
 * With one clock error all that the device times is stretched by it, and its clock reads true time. Where each sleep may
 * err differently, the device counts a whole sleep at its nominal length.
 */
export function rulesOf(watch: WatchSettings, times: Times, environment: Environment): Rules {
  const [least, most] = [ppm(times.clockErrorPpm.least), ppm(times.clockErrorPpm.most)];
  const timer = (ms: DeviceMs): number => (least === most ? atLeastMs(ms, least) : ms);
  const sleep = (ms: DeviceMs): Sleep => {
    const counted = least === most ? lastsMs(ms, least) : ms;
    return { least: lastsMs(ms, least), most: lastsMs(ms, most), counted };
  };
  const sleeps = {
    check: sleep(watch.checkIntervalMs),
    recheck: sleep(watch.recheckIntervalMs),
    retry: sleep(watch.retryIntervalMs),
  };
  const { longestOutageMs, longestChatterMs } = environment;
  const wait = { least: 1, most: times.joinWaitMs };
  return {
    watch,
    resets: times.resets,
    off: deviceOf(watch),
    sleeps,
    lasts: {
      ...sleeps,
      boot: times.bootMs,
      alert: times.connectMs,
      heartbeat: times.connectMs,
      lowBattery: times.connectMs,
      'alert waits': wait,
      'heartbeat waits': wait,
      'lowBattery waits': wait,
      dark: { least: 1, most: environment.longestPowerLossMs },
      hold: { least: endless, most: endless },
    },
    limitMs: {
      outage: longestOutageMs,
      // The last failed send is over a millisecond later.
      failed: environment.outagesApartMs + 1,
      chatter: longestChatterMs,
      cooldown: timer(watch.alertCooldownMs),
      heartbeat: watch.heartbeatIntervalMs === null ? 0 : timer(watch.heartbeatIntervalMs),
      warning: watch.lowBattery === undefined ? 0 : timer(watch.lowBattery.repeatMs),
    },
    left: {
      outage: longestOutageMs > 0 ? environment.outages : 0,
      chatter: longestChatterMs > 0 ? 1 : 0,
      powerLoss: environment.powerLosses,
      reset: environment.resets,
    },
  };
}
