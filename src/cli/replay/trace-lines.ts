// The whole trace of a run as NDJSON, in stretches: each is the same run again, recorded only there, so that a
// long trace never stands in memory as a whole.

import type { RetainedMemory } from '../../machine/index.js';
import { localTime, type Timeline } from '../../scenarios/index.js';
import {
  type CheckRecord,
  type Experiment,
  type SendRecord,
  simulate,
  type WakeRecord,
} from '../../sim/index.js';
import { isoTime, type Moments } from '../../wording/index.js';

/** About this many wakes are recorded at a time. */
const wakesAtOnce = 50_000;

export function* traceLines(of: {
  readonly experiment: Experiment;
  readonly timeline: Timeline;
  readonly wakes: number;
}): Generator<string> {
  const { experiment, timeline, wakes } = of;
  const { lengthMs } = experiment.world;
  const stretches = Math.max(1, Math.ceil(wakes / wakesAtOnce));
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  const warns = experiment.program.watch.lowBattery !== undefined;
  for (let index = 0; index < stretches; index += 1) {
    const fromMs = Math.floor((lengthMs * index) / stretches);
    const toMs = Math.floor((lengthMs * (index + 1)) / stretches);
    const trace = simulate(experiment, { record: [[fromMs, toMs]] });
    for (const wake of trace.wakes) {
      // A stretch also records a wake that reaches into it: that one was written before.
      if (wake.wakeMs >= fromMs && wake.wakeMs < toMs) yield traceLine(wake, moments, warns);
    }
  }
}

/** The line, with its line break. */
export function traceLine(wake: WakeRecord, moments: Moments, warns = false): string {
  const local = (atMs: number): string => isoTime(moments(atMs));
  const { wakeMs, cause, check, sleep } = wake;
  const line = {
    wakeMs,
    wakeAt: local(wakeMs),
    cause,
    check: check === null ? null : checkOf(check, local, warns),
    memoryBefore: memoryOf(wake.memoryBefore),
    memoryAfter: memoryOf(wake.memoryAfter),
    alertSend: sendOf(wake.alertSend),
    heartbeatSend: sendOf(wake.heartbeatSend),
    ...(warns ? { lowBatterySend: sendOf(sentOf(wake)) } : {}),
    sleep:
      sleep === null
        ? null
        : { interval: sleep.interval, fromMs: sleep.fromMs, lengthMs: sleep.lengthMs },
    holds: wake.holds,
    repeats: wake.repeats,
    periodMs: wake.periodMs,
  };
  return `${JSON.stringify(line)}\n`;
}

function checkOf(check: CheckRecord, local: (atMs: number) => string, warns: boolean): object {
  const { atMs, contact, opening, cooldownOver, heartbeatDue, escalated, decision } = check;
  const door = opening === null ? 'shut' : 'open';
  return {
    atMs,
    at: local(atMs),
    contact,
    door,
    opening,
    cooldownOver,
    heartbeatDue,
    ...(warns ? { lowBatteryDue: check.lowBatteryDue } : {}),
    escalated,
    decision,
  };
}

/** The low-battery message: in the alert's connection, or its own. */
function sentOf({ lowBatterySend, lowBatteryWithAlert, alertSend }: WakeRecord): SendRecord | null {
  return lowBatteryWithAlert === true ? alertSend : lowBatterySend;
}

/** Remembered checks in words, the oldest first. */
export function rememberedChecks({ recentChecks }: Pick<RetainedMemory, 'recentChecks'>) {
  const bits = recentChecks === 0 ? '' : recentChecks.toString(2);
  return Array.from(bits, (bit) => (bit === '1' ? ('open' as const) : ('shut' as const)));
}

function memoryOf(memory: RetainedMemory): object {
  const { shutRun, alertPending, failedAttempts, coolingDown } = memory;
  const recentChecks = rememberedChecks(memory);
  return { recentChecks, shutRun, alertPending, failedAttempts, coolingDown };
}

function sendOf(send: SendRecord | null): object | null {
  if (send === null) return null;
  const { startMs, endMs, outcome } = send;
  return { startMs, endMs, outcome };
}
