// Openings of which a log does not know everything. What the device did is fixed; in a span without evidence the door may have
// done anything. An opening is unknown only if that could change its outcome.
import { cellAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import type { AlertRecord } from '../sim/index.js';
import { firstAfter, type Spans, spanAt } from '../world/index.js';
import type { OpeningOutcome } from './judgement.js';

/** What is known of an opening that a span without evidence touches. */
export interface PartlyKnown {
  readonly outcome: OpeningOutcome;
  readonly delayMs: number | null;
  /** How long it was seen open before the first span, if it is judged on that part alone; else null. */
  readonly seenMs: number | null;
}

type Alerts = readonly Pick<AlertRecord, 'decidedMs' | 'deliveredMs'>[];

export interface KnownOf {
  readonly openings: Spans;
  readonly unavailable: Spans;
  readonly alerts: Alerts;
  readonly lengthMs: number;
  readonly asked: Requirements;
}

/** By the index of the opening: only those that a span touches. */
export function partlyKnown(of: KnownOf): ReadonlyMap<number, PartlyKnown> {
  const found = new Map<number, PartlyKnown>();
  const { openings, unavailable } = of;
  for (let span = 0; span < unavailable.fromMs.length; span += 1) {
    const fromMs = cellAt(unavailable.fromMs, span);
    const toMs = cellAt(unavailable.toMs, span);
    // Also an opening that begins just as the span ends: it may have begun before.
    for (let at = firstAfter(openings.toMs, fromMs); at < openings.fromMs.length; at += 1) {
      if (cellAt(openings.fromMs, at) > toMs) break;
      if (!found.has(at)) found.set(at, judged(of, at));
    }
  }
  return found;
}

export function isWithin(spans: Spans, atMs: number): boolean {
  return spanAt(spans, atMs) >= 0;
}

interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

function judged(of: KnownOf, index: number): PartlyKnown {
  const { openings, lengthMs, asked } = of;
  const fromMs = cellAt(openings.fromMs, index);
  const isOver = cellAt(openings.toMs, index) <= lengthMs;
  const toMs = Math.min(cellAt(openings.toMs, index), lengthMs);
  const { earliestMs, seen } = stretchesOf(of.unavailable, { fromMs, toMs });
  const [first] = seen;
  const opening = { fromMs, toMs, isOver, earliestMs };
  if (earliestMs === fromMs && first?.fromMs === fromMs && isLong(first, asked)) {
    return onFirstPart(of, opening, first);
  }
  if (isOver && toMs - earliestMs < asked.leaveOpenAfterMs) return plainly('brief');
  const long = seen.filter((stretch) => isLong(stretch, asked));
  return long.length === 0 ? plainly('unknown') : onLaterPart(of, opening, long);
}

function isLong({ fromMs, toMs }: Stretch, { leaveOpenAfterMs }: Requirements): boolean {
  return toMs - fromMs >= leaveOpenAfterMs;
}

function plainly(outcome: OpeningOutcome): PartlyKnown {
  return { outcome, delayMs: null, seenMs: null };
}

/** The stretches in which an opening was seen, and when it may have begun. */
function stretchesOf(
  { fromMs: starts, toMs: ends }: Spans,
  { fromMs, toMs }: Stretch,
): { readonly earliestMs: number; readonly seen: readonly Stretch[] } {
  const seen: Stretch[] = [];
  let earliestMs = fromMs;
  let at = fromMs;
  for (let span = firstAfter(ends, fromMs - 1); span < starts.length; span += 1) {
    const spanFromMs = cellAt(starts, span);
    if (spanFromMs >= toMs) break;
    if (spanFromMs < fromMs) earliestMs = Math.min(earliestMs, spanFromMs);
    if (spanFromMs > at) seen.push({ fromMs: at, toMs: spanFromMs });
    at = Math.max(at, cellAt(ends, span));
  }
  if (at < toMs) seen.push({ fromMs: at, toMs });
  return { earliestMs, seen };
}

interface Doubtful extends Stretch {
  readonly isOver: boolean;
  readonly earliestMs: number;
}

/** Seen open long enough before the first span: a leave-open, judged on that part. */
function onFirstPart(of: KnownOf, opening: Doubtful, part: Stretch): PartlyKnown {
  const { reportWithinMs } = of.asked;
  const seenMs = part.toMs - part.fromMs;
  const decided = of.alerts.filter(({ decidedMs }) => isIn(part, decidedMs));
  const deliveredMs = firstDelivery(decided);
  if (deliveredMs === null) {
    const isPending = decided.length > 0 && !opening.isOver && hasTimeLeft(of, opening.fromMs);
    return { outcome: isPending ? 'undecided' : 'missed', delayMs: null, seenMs };
  }
  const delayMs = deliveredMs - opening.fromMs;
  const inTime = reportWithinMs === null || delayMs <= reportWithinMs;
  return { outcome: inTime ? 'reported' : 'late', delayMs, seenMs };
}

/** Seen open long enough, but perhaps only as a part of a longer opening, or after the one before had ended. */
function onLaterPart(of: KnownOf, opening: Doubtful, long: readonly Stretch[]): PartlyKnown {
  const { reportWithinMs } = of.asked;
  const all = of.alerts.filter(({ decidedMs }) =>
    isIn({ fromMs: opening.earliestMs, toMs: opening.toMs }, decidedMs),
  );
  for (const stretch of long) {
    const deliveredMs = firstDelivery(all.filter(({ decidedMs }) => isIn(stretch, decidedMs)));
    if (deliveredMs === null) continue;
    const delayMs = deliveredMs - opening.fromMs;
    if (reportWithinMs === null || deliveredMs - opening.earliestMs <= reportWithinMs) {
      return { outcome: 'reported', delayMs, seenMs: null };
    }
    const isFirst = firstDelivery(all) === deliveredMs;
    if (isFirst && deliveredMs - stretch.fromMs > reportWithinMs) {
      return { outcome: 'late', delayMs, seenMs: null };
    }
    return plainly('unknown');
  }
  const mayCome = !opening.isOver && hasTimeLeft(of, opening.earliestMs);
  return plainly(firstDelivery(all) === null && !mayCome ? 'missed' : 'unknown');
}

function isIn({ fromMs, toMs }: Stretch, atMs: number): boolean {
  return fromMs <= atMs && atMs < toMs;
}

function firstDelivery(alerts: Alerts): number | null {
  let firstMs: number | null = null;
  for (const { deliveredMs } of alerts) {
    if (deliveredMs !== null) firstMs = Math.min(firstMs ?? deliveredMs, deliveredMs);
  }
  return firstMs;
}

function hasTimeLeft({ lengthMs, asked: { reportWithinMs } }: KnownOf, fromMs: number): boolean {
  return reportWithinMs === null || lengthMs <= fromMs + reportWithinMs;
}
