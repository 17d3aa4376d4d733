// The mutable state of one run: where the device is, what comes next in the world, and the totals so far.
import type { DeviceMs } from '../base/index.js';
import { inputCode, type LogicTable, type WakeCause } from '../machine/index.js';
import type { Spans } from '../world/index.js';
import { type SleepClock, sleepClock } from './clock.js';
import { type Durations, durations } from './durations.js';
import type { Experiment } from './experiment.js';
import { type Faults, faultsOf } from './faults.js';

/** Totals while they grow; wakes are indexed by the input code of their cause. */
export interface RunningTally {
  checks: number;
  openChecks: number;
  readonly wakes: [number, number, number, number];
  bootMs: number;
  heldMs: number;
  offMs: number;
}

export interface Run {
  readonly table: LogicTable;
  readonly lengthMs: number;
  readonly edges: Float64Array;
  readonly networkDown: Spans;
  readonly openings: Spans;
  readonly faults: Faults;
  readonly boot: Durations;
  readonly connect: Durations;
  readonly clock: SleepClock;
  readonly armed: 'none' | 'to-open' | 'all';
  /** Nominal sleeps in the order of the effects' interval bits: check, recheck, retry. */
  readonly sleepNominalMs: readonly [DeviceMs, DeviceMs, DeviceMs];
  readonly cooldownNominalMs: DeviceMs;
  /** The same in true time, where the clock error is constant. */
  readonly sleepSteadyMs: readonly [number, number, number] | null;
  readonly bootSteadyMs: number | null;
  /** Equal wakes come at equal distances, so that a run of them can be jumped. */
  readonly steadyPeriod: boolean;
  /** Open checks in memory that make an open check an escalated one. */
  readonly thresholdOpen: number;
  readonly cooldownTimer: number;
  readonly heartbeatTimer: number;
  readonly tally: RunningTally;
  /** Set by the journal: a power loss takes a pending alert with it. */
  onPowerLost: (atMs: number) => void;

  /** State of the logic: the asleep, held or off one between wakes. */
  state: number;
  /** The next wake, and the input code of its cause. */
  wakeMs: number;
  cause: (typeof inputCode.wake)[WakeCause];
  /** Index of the first contact edge after the last check. */
  edge: number;
  /** Index and instant of the next fault. */
  fault: number;
  faultMs: number;
  /** Clock reading of the last delivery; −Infinity for none. */
  deliveredReading: number;
  /** Clock reading of the last heartbeat, or of power-on. */
  heartbeatReading: number;
}

/** The run at its first power-on. */
export function openRun({ program, timing, world, seed }: Experiment): Run {
  const { watch, table } = program;
  const clock = sleepClock(timing.clockError, seed);
  const boot = durations(timing.bootTime, seed, 'boot');
  const { faults, firstBootMs } = faultsOf(world);
  const sleepNominalMs = [
    watch.checkIntervalMs,
    watch.recheckIntervalMs,
    watch.retryIntervalMs,
  ] as const;
  const steadyClock = clock.constantPpm !== null;
  const [check, recheck, retry] = sleepNominalMs;
  return {
    table,
    lengthMs: world.lengthMs,
    edges: world.contact,
    networkDown: world.networkDown,
    openings: world.openings,
    faults,
    boot,
    connect: durations(timing.connectTime, seed, 'connect'),
    clock,
    armed: watch.wakeOn === 'timer' ? 'none' : watch.wakeOn === 'opening' ? 'to-open' : 'all',
    sleepNominalMs,
    cooldownNominalMs: watch.alertCooldownMs,
    sleepSteadyMs: steadyClock
      ? [clock.sleepMs(check, 0), clock.sleepMs(recheck, 0), clock.sleepMs(retry, 0)]
      : null,
    bootSteadyMs: boot.steadyMs,
    steadyPeriod: steadyClock && boot.steadyMs !== null,
    thresholdOpen: watch.escalationThreshold.open,
    cooldownTimer: clock.timer(watch.alertCooldownMs),
    heartbeatTimer:
      watch.heartbeatIntervalMs === null
        ? Number.POSITIVE_INFINITY
        : clock.timer(watch.heartbeatIntervalMs),
    tally: {
      checks: 0,
      openChecks: 0,
      wakes: [0, 0, 0, 0],
      bootMs: 0,
      heldMs: 0,
      offMs: Math.min(firstBootMs, world.lengthMs),
    },
    onPowerLost: () => undefined,
    state: table.initial,
    wakeMs: firstBootMs,
    cause: inputCode.wake['power-on'],
    edge: 0,
    fault: 0,
    faultMs: faults.atMs[0] ?? Number.POSITIVE_INFINITY,
    deliveredReading: Number.NEGATIVE_INFINITY,
    heartbeatReading: clock.reading(Math.min(firstBootMs, world.lengthMs)),
  };
}
