// A log that holds only messages: which alerts are missing, and which came without a door that was open. An alert is missing if the
// device sends one for its opening at whatever phase of its checks, and none came.

import { cellAt, hourMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Experiment } from '../sim/index.js';
import { knownOpenings } from '../verdict/index.js';
import {
  clockErrorRangeOf,
  type DeviceTiming,
  firstAfter,
  noSpans,
  rangeMsOf,
  type Spans,
  type World,
} from '../world/index.js';
import type { ExpectedAlerts } from './expected.js';
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
  /** When each opening began that may have to be reported, and was not judged since that takes too long. */
  readonly notJudged: readonly number[];
  /** When each leave-open began before which the device may have held after an alert, with no later message. */
  readonly mayHold: readonly number[];
}

export interface SeenRows {
  readonly rows: readonly DeviceLogRow[];
  readonly expected: ExpectedAlerts;
  /** Spans in which nothing is known of the door. */
  readonly unseen?: Spans | undefined;
}

type Compared = Pick<Experiment, 'program' | 'timing' | 'world'>;

export function missingAlerts(
  experiment: Compared,
  required: Requirements,
  seen: SeenRows,
): MessageFindings {
  const arrived = seen.rows.flatMap((row) =>
    row.event === 'alert' && row.delivered ? [row.atMs] : [],
  );
  const { missing, ...openings } = missingOf(experiment, required, { ...seen, arrived });
  const { without, late } = arrivedOddly(experiment.world, { ...seen, arrived, missing });
  const alerts = [
    ...missing.map((atMs): AlertDifference => ({ atMs, kind: 'not-sent' })),
    ...without.map((atMs): AlertDifference => ({ atMs, kind: 'sent-without-reason' })),
  ].sort((a, b) => a.atMs - b.atMs);
  return { alerts, late, ...openings };
}

interface ArrivedAlerts extends SeenRows {
  /** When each alert arrived, ascending. */
  readonly arrived: readonly number[];
}

/** When each opening began that the device reports at whatever phase of its checks, and no alert came; and those not compared. */
function missingOf(
  { program, timing, world }: Compared,
  required: Requirements,
  { rows, expected, unseen = noSpans, arrived }: ArrivedAlerts,
): Pick<MessageFindings, 'unknown' | 'notJudged' | 'mayHold'> & {
  readonly missing: readonly number[];
} {
  const { fromMs, toMs } = world.openings;
  const isAlertWithin = (from: number, to: number): boolean =>
    arrived.some((atMs) => atMs >= from && atMs <= to);
  const knownAt = knownOpenings(
    { openings: world.openings, lengthMs: world.lengthMs, unseen },
    required.leaveOpenAfterMs,
  );
  // Another message shows that a device that holds after an alert watches again.
  const holds = program.watch.afterAlert === 'hold-until-reset';
  const awake = holds ? awakeAt(rows, world) : [];
  const delays = delaysOf(rows, timing);
  const missing: number[] = [];
  const unknown: number[] = [];
  const notJudged: number[] = [];
  const mayHold: number[] = [];
  for (let opening = 0; opening < fromMs.length; opening += 1) {
    const from = cellAt(fromMs, opening);
    const endMs = Math.min(cellAt(toMs, opening), world.lengthMs);
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
    if (kind !== 'leave-open' || isAlertWithin(from, endMs)) continue;
    const awakeMs = awake.findLast((atMs) => atMs < from) ?? Number.NEGATIVE_INFINITY;
    if (holds && !expected.isWatching(opening, awakeMs)) {
      mayHold.push(from);
      continue;
    }
    const found = expected.at(opening);
    if (found === null) notJudged.push(from);
    if (found?.isSure !== true) continue;
    const reportedMs = from + (found.greatestDelayMs ?? 0);
    const delayMs =
      delays(from, reportedMs + lateMs) +
      suppressedMs(from, { program, timing, world, arrived, expected });
    if (reportedMs + delayMs + lateMs >= world.lengthMs) continue;
    // Its later checks may have found the door shut.
    if (delayMs > 0 && reportedMs + delayMs > endMs) continue;
    if (!isAlertWithin(from, reportedMs + delayMs + lateMs)) missing.push(from);
  }
  return { missing, unknown, notJudged, mayHold };
}

/**
 * By how much the checks of an opening may have been later than those of a device that sends nothing else: the time of another message between
 * two checks.
 */
function delaysOf(
  rows: readonly DeviceLogRow[],
  { connectTime, joinWaitMs }: DeviceTiming,
): (fromMs: number, toMs: number) => number {
  const sendMs = rangeMsOf(connectTime).most + joinWaitMs;
  const others = rows.flatMap(({ event, atMs }) =>
    event === 'heartbeat' || event === 'low-battery' ? [atMs] : [],
  );
  return (fromMs, toMs) =>
    sendMs * others.filter((atMs) => atMs >= fromMs && atMs <= toMs + sendMs).length;
}

/**
 * For how long after an opening began the cooldown of an alert may have run that came later than the watch sends it, as after an outage
 * that only the network knows, or without a reason: the watch file does not explain it, and so neither does it explain its cooldown.
 */
function suppressedMs(
  fromMs: number,
  {
    program: { watch },
    timing,
    world: { openings },
    arrived,
    expected,
  }: Compared & Pick<ArrivedAlerts, 'arrived' | 'expected'>,
): number {
  const alertMs = arrived.findLast((atMs) => atMs < fromMs);
  if (watch.cooldownEndsWhenShut || alertMs === undefined) return 0;
  const { most } = clockErrorRangeOf(timing.clockError);
  const forMs = alertMs + Math.ceil(watch.alertCooldownMs * (1 + most / 1e6)) - fromMs;
  if (forMs <= 0) return 0;
  const opening = firstAfter(openings.fromMs, alertMs) - 1;
  const delayMs = opening < 0 ? null : (expected.at(opening)?.greatestDelayMs ?? null);
  const isExplained =
    delayMs !== null && alertMs <= cellAt(openings.fromMs, opening) + delayMs + lateMs;
  return isExplained ? 0 : forMs;
}

/** Alerts that came though the door had been shut since before the last one, and those that came long after it was shut. */
function arrivedOddly(
  { openings: { fromMs, toMs } }: World,
  {
    expected,
    unseen = noSpans,
    arrived,
    missing,
  }: ArrivedAlerts & { readonly missing: readonly number[] },
): { readonly without: readonly number[]; readonly late: readonly LateAlert[] } {
  const without: number[] = [];
  const late: LateAlert[] = [];
  arrived.forEach((atMs, index) => {
    const since = arrived[index - 1] ?? Number.NEGATIVE_INFINITY;
    const wasOpen = fromMs.some(
      (from, opening) => from < atMs && cellAt(toMs, opening) > since - lateMs,
    );
    if (!wasOpen) {
      if (!isAnyIn(unseen, since - lateMs, atMs)) without.push(atMs);
      return;
    }
    const opening = fromMs.findLastIndex((from) => from < atMs);
    const shutMs = cellAt(toMs, opening);
    if (atMs <= shutMs + muchLaterMs) return;
    const usualMs = cellAt(fromMs, opening) + (expected.at(opening)?.greatestDelayMs ?? 0);
    if (atMs <= usualMs + muchLaterMs) return;
    // It may be of an opening that the log did not see.
    if (isAnyIn(unseen, shutMs, atMs)) return;
    const missingMs = missing.findLast((one) => one > since && one < atMs) ?? null;
    late.push({ atMs, shutMs, missingMs });
  });
  return { without, late };
}

/** When a device that holds after its alerts was awake again for sure, ascending. */
function awakeAt(rows: readonly DeviceLogRow[], { resetsMs, powerLost }: World): readonly number[] {
  const messages = rows.flatMap(({ event, atMs }) => (event === 'alert' ? [] : [atMs]));
  return [...messages, ...resetsMs, ...powerLost.toMs].sort((a, b) => a - b);
}

/** Whether a span overlaps the time after one instant and up to another. */
function isAnyIn({ fromMs, toMs }: Spans, afterMs: number, untilMs: number): boolean {
  const next = firstAfter(toMs, afterMs);
  return next < fromMs.length && cellAt(fromMs, next) <= untilMs;
}
