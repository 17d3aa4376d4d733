// A log that holds only messages: which alerts are missing, and which came without a door that was open. An alert is missing if the
// device sends one for its opening at whatever phase of its checks, and none came.

import { cellAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { mostMessagePhaseSteps } from '../model/index.js';
import { everyPhase } from '../phase/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Experiment } from '../sim/index.js';
import type { AlertDifference } from './follow.js';

/** Stamps of the receiver come a little late. */
const lateMs = 60_000;

export function holdsOnlyMessages(rows: readonly DeviceLogRow[]): boolean {
  return rows.every(({ event }) => event !== 'check');
}

/** @returns null where there are too many openings to look at. */
export function missingAlerts(
  experiment: Experiment,
  required: Requirements,
  rows: readonly DeviceLogRow[],
): readonly AlertDifference[] | null {
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
    if (!wasOpen) differences.push({ atMs, kind: 'sent-without-reason' });
  });
  return differences.sort((a, b) => a.atMs - b.atMs);
}
