// A log that holds only messages: which alerts are missing, and which came without a door that was open. An alert is missing if the
// device sends one for its opening at whatever phase of its checks, and none came.

import { cellAt, hourMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { mostMessagePhaseSteps } from '../model/index.js';
import { everyPhase } from '../phase/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Experiment } from '../sim/index.js';
import type { AlertDifference } from './follow.js';

/** Stamps of the receiver come a little late. */
const lateMs = 60_000;

/** A retry or two may come after the door was shut; this is worth a word. */
const muchLaterMs = hourMs;

export function holdsOnlyMessages(rows: readonly DeviceLogRow[]): boolean {
  return rows.every(({ event }) => event !== 'check');
}

/** An alert that came after its opening was over, and later than the device would have sent it. */
export interface LateAlert {
  readonly atMs: number;
  /** When the last opening before it ended. */
  readonly shutMs: number;
  /** The last opening before it, and after the alert before, whose alert is missing; null: no such opening. */
  readonly missingMs: number | null;
}

export interface MessageFindings {
  readonly alerts: readonly AlertDifference[];
  readonly late: readonly LateAlert[];
}

/** @returns null where there are too many openings to look at. */
export function missingAlerts(
  experiment: Experiment,
  required: Requirements,
  rows: readonly DeviceLogRow[],
): MessageFindings | null {
  const { world, program } = experiment;
  const every = everyPhase(experiment, required, {
    wasRunning: true,
    mostSteps: mostMessagePhaseSteps,
  });
  if (every === null) return null;
  const arrived = rows.flatMap((row) => (row.event === 'alert' && row.delivered ? [row.atMs] : []));
  // Another message shows that a device that holds after an alert watches again.
  const holds = program.watch.afterAlert === 'hold-until-reset';
  const awake = rows.flatMap(({ event, atMs }) => (event === 'alert' ? [] : [atMs]));
  const { fromMs, toMs } = world.openings;
  const differences: AlertDifference[] = [];
  const late: LateAlert[] = [];
  for (let opening = 0; opening < fromMs.length; opening += 1) {
    const { reportedShare, greatestDelayMs } = every.openingAt(opening);
    const from = cellAt(fromMs, opening);
    const byMs = from + (greatestDelayMs ?? 0) + lateMs;
    if (reportedShare !== 1 || byMs >= world.lengthMs) continue;
    const lastMs = Math.max(byMs, Math.min(cellAt(toMs, opening), world.lengthMs));
    const before = arrived.findLast((atMs) => atMs < from) ?? Number.NEGATIVE_INFINITY;
    if (holds && before > (awake.findLast((atMs) => atMs < from) ?? before - 1)) continue;
    if (arrived.some((atMs) => atMs >= from && atMs <= lastMs)) continue;
    differences.push({ atMs: from, kind: 'not-sent' });
  }
  arrived.forEach((atMs, index) => {
    const since = arrived[index - 1] ?? Number.NEGATIVE_INFINITY;
    const wasOpen = fromMs.some(
      (from, opening) => from < atMs && cellAt(toMs, opening) > since - lateMs,
    );
    if (!wasOpen) {
      differences.push({ atMs, kind: 'sent-without-reason' });
      return;
    }
    const opening = fromMs.findLastIndex((from) => from < atMs);
    const openedMs = cellAt(fromMs, opening);
    const shutMs = cellAt(toMs, opening);
    const usualMs = openedMs + (every.openingAt(opening).greatestDelayMs ?? 0);
    if (atMs <= Math.max(shutMs, usualMs) + muchLaterMs) return;
    const missing = differences.findLast(
      (one) => one.kind === 'not-sent' && one.atMs > since && one.atMs < atMs,
    );
    late.push({ atMs, shutMs, missingMs: missing?.atMs ?? null });
  });
  return { alerts: differences.sort((a, b) => a.atMs - b.atMs), late };
}
