// The mutable state of one run: where the device is, what comes next in the world, and the totals so far.
import { cellAt, type DeviceMs, invariant, itemAt } from '../base/index.js';
import {
  effectBit,
  inputCode,
  type LogicTable,
  nextState,
  type SleepInterval,
  type WakeCause,
} from '../machine/index.js';
import { nominalSleeps } from '../model/index.js';
import { noSpans, type Spans } from '../world/index.js';
import { comesMs, openPerson, type Person } from './answers.js';
import { type Charge, openCharge } from './charge.js';
import { type SleepClock, sleepClock } from './clock.js';
import { type Durations, durations } from './durations.js';
import type { Experiment, TimeSlips } from './experiment.js';
import { type Faults, faultsOf } from './faults.js';
import type { RunningTally, Sends } from './running-tally.js';

/** One value for each sleep, in the order of the effects' interval bits: check, recheck, retry. */
type EachSleep<T> = readonly [check: T, recheck: T, retry: T];

/** A sleep that runs to its end. */
export interface Sleep {
  readonly interval: SleepInterval;
  readonly lengthMs: number;
  /** What it adds to the clock's reading. */
  readonly countedMs: number;
}

/** A sleep that is the same each time, and so is the boot after it. */
export interface SteadySleep extends Sleep {
  /** From one check to the next, and what that adds to the clock's reading. */
  readonly periodMs: number;
  readonly countedPeriodMs: number;
}

/** Wakes that come at equal distances, so that a run of them can be jumped. */
export interface Steady {
  readonly bootMs: number;
  readonly sleeps: EachSleep<SteadySleep>;
}

/** The mistakes of a faulty watch with time, and what it counts. */
export interface Slips {
  readonly of: TimeSlips;
  /** The state of a device at rest: nothing in it can be forgotten, and shut checks lead to it again. */
  readonly rest: number;
  /** Readings of the clock: when it began to count, at the wake before and at the last delivery. */
  beganReading: number;
  beforeReading: number;
  deliveredReading: number | null;
  wakes: number;
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
  readonly joinWaitMs: number;
  readonly clock: SleepClock;
  readonly armed: 'none' | 'to-open' | 'all';
  readonly sleepNominalMs: EachSleep<DeviceMs>;
  /** Null where boots or sleeps vary. */
  readonly steady: Steady | null;
  /** Open checks in memory that make an open check an escalated one. */
  readonly thresholdOpen: number;
  readonly cooldownTimer: number;
  /** The cooldown counts from the decision of its alert: a mistake. */
  readonly coolsFromDecision: boolean;
  readonly heartbeatTimer: number;
  /** From one low-battery message to the next; Infinity: there are none. */
  readonly lowBatteryTimer: number;
  /** When the battery counts as low whatever its charge. */
  readonly batteryLow: Spans;
  readonly tally: RunningTally;
  /** Null: there is always charge. */
  readonly charge: Charge | null;
  /** Null: nobody comes. */
  readonly person: Person | null;
  /** Set by the journal: a pending alert is lost with retained memory. */
  onMemoryLost: (atMs: number) => void;

  /** State of the logic: the asleep, held or off one between wakes. */
  state: number;
  /** The next wake, and the input code of its cause. */
  wakeMs: number;
  cause: (typeof inputCode.wake)[WakeCause];
  /** Index of the first contact edge after the last check. */
  edge: number;
  /** Index and instant of the next fault; that instant or the timeline's end; and what the device cannot pass. */
  fault: number;
  faultMs: number;
  dueMs: number;
  /** `dueMs`, or the end of the charge where that comes first and the wake is priced. */
  limitMs: number;
  /** The clock's reading less true time. Readings only compare with readings of the same run. */
  readingOffsetMs: number;
  /** Reading at which the cooldown is over; −Infinity when none was started. */
  cooldownEnd: number;
  /** Reading at the decision of the last alert. */
  decidedAt: number;
  /** Reading at which the next heartbeat is due; Infinity without heartbeats. */
  heartbeatEnd: number;
  /** Null: the watch has none. */
  readonly slips: Slips | null;
  /** Reading from which on a low battery may be reported again; −Infinity where none was, Infinity where none ever is. */
  lowBatteryEnd: number;
  /** The first check that found a low-battery message due; Infinity: none has. */
  lowBatteryDueMs: number;
}

/** The run at its first power-on. */
export function openRun(experiment: Experiment): Run {
  const { program, timing, world, seed, answers } = experiment;
  const { watch, table } = program;
  const clock = sleepClock(timing.clockError, seed);
  const boot = durations(timing.bootTime, seed, 'boot');
  const { faults, firstBootMs } = faultsOf(world);
  const sleepNominalMs = nominalSleeps(watch);
  const heartbeatTimer =
    watch.heartbeatIntervalMs === null
      ? Number.POSITIVE_INFINITY
      : clock.timer(watch.heartbeatIntervalMs);
  const { lowBattery } = watch;
  const faultMs = cellAt(faults.atMs, 0);
  const charge = experiment.charge ? openCharge(experiment, experiment.charge, firstBootMs) : null;
  const person = answers ? openPerson(answers, firstBootMs, charge) : null;
  const comes = person === null ? Number.POSITIVE_INFINITY : comesMs(person);
  const dueMs = Math.min(faultMs, comes, world.lengthMs);
  return {
    table,
    lengthMs: world.lengthMs,
    edges: world.contact,
    networkDown: world.networkDown,
    openings: world.openings,
    faults,
    boot,
    connect: durations(timing.connectTime, seed, 'connect'),
    joinWaitMs: timing.joinWaitMs,
    clock,
    armed: watch.wakeOn === 'timer' ? 'none' : watch.wakeOn === 'opening' ? 'to-open' : 'all',
    sleepNominalMs,
    steady: steadyRhythm(clock, boot.steadyMs, sleepNominalMs),
    thresholdOpen: watch.escalationThreshold.open,
    cooldownTimer: clock.timer(watch.alertCooldownMs),
    coolsFromDecision: program.cooldownFrom === 'decision',
    heartbeatTimer,
    lowBatteryTimer:
      lowBattery === undefined ? Number.POSITIVE_INFINITY : clock.timer(lowBattery.repeatMs),
    batteryLow: lowBattery === undefined ? noSpans : (world.batteryLow ?? noSpans),
    tally: newTally(Math.min(firstBootMs, world.lengthMs)),
    charge,
    person,
    onMemoryLost: () => undefined,
    state: table.initial,
    wakeMs: firstBootMs,
    cause: inputCode.wake['power-on'],
    edge: 0,
    fault: 0,
    faultMs,
    dueMs,
    limitMs: dueMs,
    readingOffsetMs: 0,
    cooldownEnd: Number.NEGATIVE_INFINITY,
    decidedAt: 0,
    heartbeatEnd: firstBootMs + heartbeatTimer,
    lowBatteryEnd: lowBattery === undefined ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY,
    lowBatteryDueMs: Number.POSITIVE_INFINITY,
    slips: program.slips === undefined ? null : slipsFrom(program.slips, table, firstBootMs),
  };
}

function newTally(offMs: number): RunningTally {
  return {
    checks: 0,
    openChecks: 0,
    wakes: [0, 0, 0, 0],
    bootMs: 0,
    shutBootMs: 0,
    waitMs: 0,
    heldMs: 0,
    offMs,
    flatMs: 0,
    sends: {
      alert: newSends(),
      heartbeat: newSends(),
      lowBattery: newSends(),
      failed: { count: 0, ms: 0 },
    },
  };
}

function slipsFrom(of: TimeSlips, table: LogicTable, reading: number): Slips {
  const woken = nextState(table, table.initial, inputCode.wake['power-on']);
  return {
    of,
    rest: nextState(table, woken, inputCode.check + inputCode.checkCooldownOver),
    beganReading: reading,
    beforeReading: reading,
    deliveredReading: null,
    wakes: 0,
  };
}

function newSends(): Sends {
  return { delivered: 0, failed: 0, cutOff: 0, ms: 0 };
}

/** What comes next is worked out again: a fault, a person, the end. */
export function setDue(run: Run): void {
  const comes = run.person === null ? Number.POSITIVE_INFINITY : comesMs(run.person);
  run.dueMs = Math.min(run.faultMs, comes, run.lengthMs);
  run.limitMs = run.dueMs;
}

const intervals = ['check', 'recheck', 'retry'] as const;

function steadyRhythm(
  clock: SleepClock,
  bootMs: number | null,
  nominalMs: EachSleep<DeviceMs>,
): Steady | null {
  if (bootMs === null || clock.ppm === null) return null;
  const sleepAt = (index: 0 | 1 | 2): SteadySleep => {
    const sleep = beginSleep(clock, intervals[index], { nominalMs: nominalMs[index], fromMs: 0 });
    const periodMs = bootMs + sleep.lengthMs;
    invariant(periodMs > 0, 'a wake and its sleep take time', { bootMs, sleep });
    return { ...sleep, periodMs, countedPeriodMs: bootMs + sleep.countedMs };
  };
  return { bootMs, sleeps: [sleepAt(0), sleepAt(1), sleepAt(2)] };
}

/** Which of `EachSleep` an effects cell names. */
function sleepIndex(effects: number): number {
  return (effects & effectBit.sleepMask) / effectBit.sleepCheck - 1;
}

/** The sleep that an effects cell names. */
export function steadySleepOf(steady: Steady, effects: number): SteadySleep {
  return itemAt(steady.sleeps, sleepIndex(effects));
}

/** The sleep that an effects cell names, begun at `fromMs`. */
export function sleepOf(run: Run, effects: number, fromMs: number): Sleep {
  if (run.steady !== null) return steadySleepOf(run.steady, effects);
  const index = sleepIndex(effects);
  const nominalMs = itemAt(run.sleepNominalMs, index);
  return beginSleep(run.clock, itemAt(intervals, index), { nominalMs, fromMs });
}

function beginSleep(
  clock: SleepClock,
  interval: SleepInterval,
  { nominalMs, fromMs }: { readonly nominalMs: DeviceMs; readonly fromMs: number },
): Sleep {
  const lengthMs = clock.sleepMs(nominalMs, fromMs);
  return { interval, lengthMs, countedMs: clock.countsNominal ? nominalMs : lengthMs };
}

/** Sets the clock's reading after completed sleeps. */
export function slept(run: Run, { lengthMs, countedMs }: Sleep, times: number): void {
  run.readingOffsetMs += times * (countedMs - lengthMs);
}

/** The device clock's reading at a true instant. */
export function readingAt(run: Run, atMs: number): number {
  return atMs + run.readingOffsetMs;
}
