// A log that holds only messages: which alerts are missing, and which came without a door that was open. An alert is missing if the
// device sends one for its opening at whatever phase of its checks, and none came.

import { cellAt, hourMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { mostMessagePhaseSteps } from '../model/index.js';
import { everyPhase } from '../phase/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Experiment } from '../sim/index.js';
import { knownOpenings } from '../verdict/index.js';
import { firstAfter, noSpans, type Spans } from '../world/index.js';
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
  /** When each opening began of which the log does not know enough. */
  readonly unknown: readonly number[];
}

export interface SeenRows {
  readonly rows: readonly DeviceLogRow[];
  /** Spans in which nothing is known of the door. */
  readonly unseen?: Spans | undefined;
}

/** @returns null where there are too many openings to look at. */
export function missingAlerts(
  experiment: Experiment,
  required: Requirements,
  { rows, unseen = noSpans }: SeenRows,
): MessageFindings | null {
  const { world, program } = experiment;
  const every = everyPhase(experiment, required, {
    wasRunning: true,
    mostSteps: mostMessagePhaseSteps,
    unavailable: unseen,
  });
  if (every === null) return null;
  const arrived = rows.flatMap((row) => (row.event === 'alert' && row.delivered ? [row.atMs] : []));
  // Another message shows that a device that holds after an alert watches again.
  const holds = program.watch.afterAlert === 'hold-until-reset';
  const awake = rows.flatMap(({ event, atMs }) => (event === 'alert' ? [] : [atMs]));
  const { fromMs, toMs } = world.openings;
  const differences: AlertDifference[] = [];
  const late: LateAlert[] = [];
  const unknown: number[] = [];
  const knownAt = knownOpenings(
    { ...{ openings: world.openings, lengthMs: world.lengthMs }, unseen },
    required.leaveOpenAfterMs,
  );
  for (let opening = 0; opening < fromMs.length; opening += 1) {
    const { reportedShare, greatestDelayMs } = every.openingAt(opening);
    const from = cellAt(fromMs, opening);
    const { kind, isStartSeen, isWhole } = knownAt(opening);
    // An alert of it may have come before the log saw it, and may have begun a cooldown.
    if (
      !isWhole &&
      (kind === 'unknown' || !isStartSeen) &&
      cellAt(toMs, opening) <= world.lengthMs
    ) {
      unknown.push(from);
      continue;
    }
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
    const isUnseen = isAnyIn(unseen, since - lateMs, atMs);
    if (!wasOpen && isUnseen) return;
    if (!wasOpen) {
      differences.push({ atMs, kind: 'sent-without-reason' });
      return;
    }
    const opening = fromMs.findLastIndex((from) => from < atMs);
    const openedMs = cellAt(fromMs, opening);
    const shutMs = cellAt(toMs, opening);
    const usualMs = openedMs + (every.openingAt(opening).greatestDelayMs ?? 0);
    if (atMs <= Math.max(shutMs, usualMs) + muchLaterMs) return;
    // It may be of an opening that the log did not see.
    if (isAnyIn(unseen, shutMs, atMs)) return;
    const missing = differences.findLast(
      (one) => one.kind === 'not-sent' && one.atMs > since && one.atMs < atMs,
    );
    late.push({ atMs, shutMs, missingMs: missing?.atMs ?? null });
  });
  return { alerts: differences.sort((a, b) => a.atMs - b.atMs), late, unknown };
}

/** Whether a span overlaps the time after one instant and up to another. */
function isAnyIn({ fromMs, toMs }: Spans, afterMs: number, untilMs: number): boolean {
  const next = firstAfter(toMs, afterMs);
  return next < fromMs.length && cellAt(fromMs, next) <= untilMs;
}
