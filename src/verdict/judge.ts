// Did the watch keep its promise? One pass over the openings with the alerts beside it.

import { cellAt, invariant } from '../base/index.js';
import { type Requirements } from '../model/index.js';
import type { Trace } from '../sim/index.js';
import { noSpans, type Spans, spanAt } from '../world/index.js';
import type {
  AlertKind,
  JudgedAlert,
  JudgedOpening,
  JudgedOpenings,
  OpeningOutcome,
  Summary,
  Verdict,
} from './judgement.js';
import { isWithin, type PartlyKnown, partlyKnown } from './unknown.js';

/** The part of a trace that is judged; whatever ran the device can make one. */
export type JudgedTrace = Pick<Trace, 'lengthMs' | 'alerts'> & {
  readonly flat?: Trace['flat'];
  readonly lowBattery?: Trace['lowBattery'];
  readonly tally: Pick<Trace['tally'], 'checks'>;
};

/**
 * Judges what a device did against the truth.
 * @param unavailable spans in which the truth is not known: there the door is taken to stay as it was.
 */
export function judge(
  openings: Spans,
  trace: JudgedTrace,
  asked: Requirements,
  unavailable: Spans = noSpans,
): Verdict {
  const { lengthMs } = trace;
  const partly = partlyKnown({ openings, unavailable, alerts: trace.alerts, lengthMs, asked });
  const alerts = judgeAlerts(openings, trace, { asked, unavailable, partly });
  const judged = judgeOpenings(openings, trace, { alerts, asked, partly });
  const summary = summarize(judged, alerts, trace.tally.checks);
  const warnings = trace.lowBattery?.length ?? 0;
  const undelivered = alerts.filter(({ deliveredMs }) => deliveredMs === null).length;
  const cutOff = cutOffByEnd(judged, alerts, { trace, partly });
  return {
    summary: {
      ...summary,
      ...(undelivered === 0 ? {} : { undelivered }),
      ...(warnings === 0 ? {} : { lowBatteryMessages: warnings }),
    },
    alerts,
    openings: judged,
    ...(cutOff === null ? {} : { cutOff }),
  };
}

/**
 * The last alert alone can still be on its way. Null: it is not, its opening does not need it, or the log does not know everything of
 * that opening.
 */
function cutOffByEnd(
  openings: JudgedOpenings,
  alerts: readonly JudgedAlert[],
  { trace, partly }: { readonly trace: JudgedTrace; readonly partly: ReadonlyMap<number, unknown> },
): number | null {
  const last = trace.alerts.at(-1)?.attempts.at(-1);
  const opening = alerts.at(-1)?.opening ?? null;
  if (last?.outcome !== 'cutOff' || last.endMs < trace.lengthMs) return null;
  if (opening === null || partly.has(opening) || last.wouldFail === true) return null;
  const { outcome } = openings.at(opening);
  return outcome === 'missed' || outcome === 'undecided' ? opening : null;
}

/** The length of an opening within the timeline. */
function durationOf(openings: Spans, index: number, lengthMs: number): number {
  return Math.min(cellAt(openings.toMs, index), lengthMs) - cellAt(openings.fromMs, index);
}

function judgeAlerts(
  openings: Spans,
  trace: JudgedTrace,
  by: {
    readonly asked: Requirements;
    readonly unavailable: Spans;
    readonly partly: ReadonlyMap<number, PartlyKnown>;
  },
): JudgedAlert[] {
  const { asked, unavailable, partly } = by;
  let lastOpening = -1;
  return trace.alerts.map(({ decidedMs, deliveredMs }) => {
    const opening = spanAt(openings, decidedMs);
    const belongsTo = opening < 0 ? null : opening;
    if (isWithin(unavailable, decidedMs)) {
      return { decidedMs, deliveredMs, kind: 'unknown', opening: belongsTo };
    }
    const first = opening < 0 || opening !== lastOpening;
    lastOpening = opening;
    const firstKind = (): AlertKind =>
      partly.get(opening)?.outcome === 'unknown'
        ? 'unknown'
        : firstAlertKind(openings, opening, {
            decidedMs,
            trace,
            asked,
            earliestMs: partly.get(opening)?.earliestMs ?? Number.POSITIVE_INFINITY,
          });
    const kind = first ? firstKind() : 'repeat';
    return { decidedMs, deliveredMs, kind, opening: belongsTo };
  });
}

function firstAlertKind(
  openings: Spans,
  opening: number,
  at: {
    readonly decidedMs: number;
    readonly trace: JudgedTrace;
    readonly asked: Requirements;
    /** When the opening may have begun, where nobody saw that. */
    readonly earliestMs: number;
  },
): AlertKind {
  const { leaveOpenAfterMs } = at.asked;
  if (opening < 0) return 'false';
  const { lengthMs } = at.trace;
  const isOver = cellAt(openings.toMs, opening) <= lengthMs;
  if (isOver && durationOf(openings, opening, lengthMs) < leaveOpenAfterMs) return 'false';
  const fromMs = cellAt(openings.fromMs, opening);
  if (at.decidedMs - fromMs >= leaveOpenAfterMs) return 'true';
  return at.decidedMs - Math.min(fromMs, at.earliestMs) >= leaveOpenAfterMs ? 'unknown' : 'early';
}

function judgeOpenings(
  openings: Spans,
  { lengthMs, flat = [] }: JudgedTrace,
  by: {
    readonly alerts: readonly JudgedAlert[];
    readonly asked: Requirements;
    readonly partly: ReadonlyMap<number, PartlyKnown>;
  },
): JudgedOpenings {
  const deliveries = firstDeliveries(by.alerts);
  const count = openings.fromMs.length;
  const { partly } = by;
  const isUnknown = (index: number): boolean => partly.get(index)?.outcome === 'unknown';
  const long = leaveOpensOf(openings, lengthMs, by.asked.leaveOpenAfterMs);
  const leaveOpens = partly.size === 0 ? long : long.filter((index) => !isUnknown(index));
  const unknown = [...partly.keys()].filter(isUnknown);
  const at = (index: number): JudgedOpening => {
    invariant(index >= 0 && index < count, 'there is such an opening', { index, count });
    const fromMs = cellAt(openings.fromMs, index);
    const toMs = cellAt(openings.toMs, index);
    const deliveredMs = deliveries.get(index);
    const durationMs = durationOf(openings, index, lengthMs);
    const known = partly.get(index);
    if (known !== undefined) {
      const { delayMs, seenMs } = known;
      const isFlat = isFlatWithin(flat, fromMs, fromMs + (seenMs ?? durationMs));
      const outcome = known.outcome === 'missed' && isFlat ? 'unpowered' : known.outcome;
      return { fromMs, toMs: toMs > lengthMs ? null : toMs, durationMs, delayMs, outcome };
    }
    const delayMs = deliveredMs === undefined ? null : deliveredMs - fromMs;
    const opening = { fromMs, toMs: toMs > lengthMs ? null : toMs, durationMs, delayMs };
    const outcome = outcomeOf(opening, { lengthMs, flat }, by.asked);
    // Written out: a spread costs fifty times as much, and a long log has many openings.
    return { fromMs, toMs: opening.toMs, durationMs, delayMs, outcome };
  };
  return { count, at, leaveOpens, unknown, seenMs: (index) => partly.get(index)?.seenMs ?? null };
}

/** Most openings are brief: this runs through them in two columns, without an object each. */
function leaveOpensOf(openings: Spans, lengthMs: number, leaveOpenAfterMs: number): number[] {
  const leaveOpens: number[] = [];
  for (let index = 0; index < openings.fromMs.length; index += 1) {
    if (durationOf(openings, index, lengthMs) >= leaveOpenAfterMs) leaveOpens.push(index);
  }
  return leaveOpens;
}

/** For each opening with a delivered alert, the first delivery. */
function firstDeliveries(alerts: readonly JudgedAlert[]): ReadonlyMap<number, number> {
  const deliveries = new Map<number, number>();
  for (const { opening, deliveredMs } of alerts) {
    if (opening === null || deliveredMs === null) continue;
    deliveries.set(opening, Math.min(deliveredMs, deliveries.get(opening) ?? deliveredMs));
  }
  return deliveries;
}

function outcomeOf(
  opening: Omit<JudgedOpening, 'outcome'>,
  { lengthMs, flat }: Pick<Trace, 'lengthMs' | 'flat'>,
  { leaveOpenAfterMs, reportWithinMs }: Requirements,
): OpeningOutcome {
  const { delayMs, durationMs, fromMs, toMs } = opening;
  // What is not over yet may still become a leave-open.
  if (durationMs < leaveOpenAfterMs) return toMs === null ? 'undecided' : 'brief';
  if (delayMs !== null) {
    return reportWithinMs === null || delayMs <= reportWithinMs ? 'reported' : 'late';
  }
  if (isFlatWithin(flat, fromMs, fromMs + durationMs)) return 'unpowered';
  // The instant `lengthMs` is outside the timeline: a deadline just there is not yet past.
  const timeLeft = reportWithinMs === null || lengthMs <= fromMs + reportWithinMs;
  return toMs === null && timeLeft ? 'undecided' : 'missed';
}

/** Whether the device was off for want of charge at some instant from one to before another. */
function isFlatWithin(flat: Trace['flat'], fromMs: number, toMs: number): boolean {
  return flat.some((off) => off.fromMs < toMs && off.toMs > fromMs);
}

/** The opening that is still open at the end of the timeline; null: the door is shut there. */
export function openAtEnd(openings: JudgedOpenings): JudgedOpening | null {
  if (openings.count === 0) return null;
  const last = openings.at(openings.count - 1);
  return last.toMs === null ? last : null;
}

function summarize(
  openings: JudgedOpenings,
  alerts: readonly JudgedAlert[],
  checks: number,
): Summary {
  const outcomes: Record<OpeningOutcome, number> = {
    brief: 0,
    reported: 0,
    late: 0,
    undecided: 0,
    unpowered: 0,
    missed: 0,
    unknown: 0,
  };
  let worstDelayMs: number | null = null;
  for (const index of openings.leaveOpens) {
    const { outcome, delayMs } = openings.at(index);
    outcomes[outcome] += 1;
    if (delayMs !== null) worstDelayMs = Math.max(worstDelayMs ?? 0, delayMs);
  }
  const atEnd = openAtEnd(openings);
  const isLeaveOpen = openings.leaveOpens.at(-1) === openings.count - 1;
  if (atEnd?.outcome === 'undecided' && !isLeaveOpen) outcomes.undecided += 1;
  const kinds = { true: 0, early: 0, false: 0, repeat: 0, unknown: 0 };
  for (const { kind } of alerts) kinds[kind] += 1;
  return {
    openings: openings.count,
    leaveOpens: openings.leaveOpens.length,
    reported: outcomes.reported,
    late: outcomes.late,
    missed: outcomes.missed + outcomes.unpowered,
    undecided: outcomes.undecided,
    unpowered: outcomes.unpowered,
    unknown: openings.unknown.length,
    alerts: alerts.length,
    falseAlarms: kinds.false,
    earlyAlerts: kinds.early,
    repeats: kinds.repeat,
    checks,
    worstDelayMs,
  };
}
