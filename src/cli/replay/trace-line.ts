// One wake of a trace as a line of NDJSON: instants in milliseconds from the timeline's start, and beside each
// the time of day.
import type { RetainedMemory } from '../../machine/index.js';
import type { CheckRecord, SendRecord, WakeRecord } from '../../sim/index.js';
import { isoTime, type Moments } from '../../wording/index.js';

/** The line, with its line break. */
export function traceLine(wake: WakeRecord, moments: Moments): string {
  const local = (atMs: number): string => isoTime(moments(atMs));
  const { wakeMs, cause, check, sleep } = wake;
  const line = {
    wakeMs,
    wakeAt: local(wakeMs),
    cause,
    check: check === null ? null : checkOf(check, local),
    memoryBefore: memoryOf(wake.memoryBefore),
    memoryAfter: memoryOf(wake.memoryAfter),
    alertSend: sendOf(wake.alertSend),
    heartbeatSend: sendOf(wake.heartbeatSend),
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

function checkOf(check: CheckRecord, local: (atMs: number) => string): object {
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
    escalated,
    decision,
  };
}

/** Remembered checks in words, the oldest first. */
function memoryOf(memory: RetainedMemory): object {
  const bits = memory.recentChecks === 0 ? '' : memory.recentChecks.toString(2);
  const { shutRun, alertPending, failedAttempts, coolingDown } = memory;
  const recentChecks = Array.from(bits, (bit) => (bit === '1' ? 'open' : 'shut'));
  return { recentChecks, shutRun, alertPending, failedAttempts, coolingDown };
}

function sendOf(send: SendRecord | null): object | null {
  if (send === null) return null;
  const { startMs, endMs, outcome } = send;
  return { startMs, endMs, outcome };
}
