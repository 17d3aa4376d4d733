// Openings of which a log does not know everything. What the device did is fixed; in a span without evidence the door may have
// done anything. An opening is unknown only if that could change its outcome.
import { cellAt, itemAt } from '../base/index.js';
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
  /** When it may have begun. */
  readonly earliestMs: number;
}

type Alerts = readonly Pick<AlertRecord, 'decidedMs' | 'deliveredMs'>[];

export interface DoubtsOf {
  readonly openings: Spans;
  readonly unavailable: Spans;
  readonly lengthMs: number;
  readonly asked: Requirements;
}

export interface KnownOf extends DoubtsOf {
  readonly alerts: Alerts;
}

/** What no alert can change about an opening that a span touches, and what an alert of it would decide. */
export type Doubt = { readonly parts: OpeningParts } & DoubtKind;

type DoubtKind =
  /** Its outcome is the same whatever the device did. */
  | { readonly kind: 'settled'; readonly outcome: 'brief' | 'unknown' }
  | {
      /** Judged on the part before the first span, or on the stretches in which it was seen open long enough. */
      readonly kind: 'first-part' | 'later-part';
      readonly fromMs: number;
      readonly toMs: number;
      /** When it may have begun. */
      readonly earliestMs: number;
      /** Where alerts are known to be of a leave-open. */
      readonly stretches: readonly Stretch[];
      /** It goes on at the end of the timeline, and an alert would still be in time. */
      readonly isUndecidedAtEnd: boolean;
    };

/** What was seen of an opening. */
export interface OpeningParts {
  /** When it may have begun. */
  readonly earliestMs: number;
  /** Each stretch in which it was seen open. */
  readonly seen: readonly Stretch[];
  /** Somebody saw the door shut at its end, and not only some time after it. */
  readonly isEndSeen: boolean;
}

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** By the index of the opening: only those that a span touches. */
export function partlyKnown(of: KnownOf): ReadonlyMap<number, PartlyKnown> {
  const doubts = doubtfulOpenings(of);
  return new Map(
    Array.from(doubts, ([index, doubt]) => {
      const { earliestMs } = doubt.parts;
      return [index, { ...judged(of, doubt), earliestMs }];
    }),
  );
}

/** By the index of the opening, ascending: those that a span touches. */
export function doubtfulOpenings(of: DoubtsOf): ReadonlyMap<number, Doubt> {
  const found = new Map<number, Doubt>();
  const { openings, unavailable } = of;
  for (let span = 0; span < unavailable.fromMs.length; span += 1) {
    const fromMs = cellAt(unavailable.fromMs, span);
    const toMs = cellAt(unavailable.toMs, span);
    // Also an opening that begins just as the span ends: it may have begun before.
    for (let at = firstAfter(openings.toMs, fromMs); at < openings.fromMs.length; at += 1) {
      if (cellAt(openings.fromMs, at) > toMs) break;
      if (!found.has(at)) found.set(at, doubtOf(of, at));
    }
  }
  return found;
}

export function isWithin(spans: Spans, atMs: number): boolean {
  return spanAt(spans, atMs) >= 0;
}

function doubtOf(of: DoubtsOf, index: number): Doubt {
  const { openings, lengthMs } = of;
  const fromMs = cellAt(openings.fromMs, index);
  const isOver = cellAt(openings.toMs, index) <= lengthMs;
  const toMs = Math.min(cellAt(openings.toMs, index), lengthMs);
  const { earliestMs, seen } = stretchesOf(of.unavailable, { fromMs, toMs });
  const parts = { earliestMs, seen, isEndSeen: isOver && seen.at(-1)?.toMs === toMs };
  return { parts, ...doubtKind(of, { fromMs, toMs, isOver, parts }) };
}

function doubtKind(
  of: DoubtsOf,
  opening: Stretch & { readonly isOver: boolean; readonly parts: OpeningParts },
): DoubtKind {
  const { asked } = of;
  const { fromMs, toMs, isOver, parts } = opening;
  const { earliestMs, seen } = parts;
  const isUndecidedAtEnd = !isOver && hasTimeLeft(of, earliestMs);
  const doubtful = { fromMs, toMs, earliestMs, isUndecidedAtEnd };
  const [first] = seen;
  if (earliestMs === fromMs && first?.fromMs === fromMs && isLong(first, asked)) {
    return { kind: 'first-part', ...doubtful, stretches: [first] };
  }
  if (isOver && toMs - earliestMs < asked.leaveOpenAfterMs) {
    return { kind: 'settled', outcome: 'brief' };
  }
  const stretches = seen.filter((stretch) => isLong(stretch, asked));
  return stretches.length === 0
    ? { kind: 'settled', outcome: 'unknown' }
    : { kind: 'later-part', ...doubtful, stretches };
}

type Judged = Omit<PartlyKnown, 'earliestMs'>;

function judged(of: KnownOf, doubt: Doubt): Judged {
  switch (doubt.kind) {
    case 'settled':
      return plainly(doubt.outcome);
    case 'first-part':
      return onFirstPart(of, doubt);
    case 'later-part':
      return onLaterPart(of, doubt);
  }
}

function isLong({ fromMs, toMs }: Stretch, { leaveOpenAfterMs }: Requirements): boolean {
  return toMs - fromMs >= leaveOpenAfterMs;
}

function plainly(outcome: OpeningOutcome): Judged {
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

type Doubtful = Exclude<Doubt, { readonly kind: 'settled' }>;

/** Seen open long enough before the first span: a leave-open, judged on that part. */
function onFirstPart({ alerts, asked }: KnownOf, doubt: Doubtful): Judged {
  const { reportWithinMs } = asked;
  const part = itemAt(doubt.stretches, 0);
  const seenMs = part.toMs - part.fromMs;
  const decided = alerts.filter(({ decidedMs }) => isIn(part, decidedMs));
  const deliveredMs = firstDelivery(decided);
  if (deliveredMs === null) {
    const isPending = decided.length > 0 && doubt.isUndecidedAtEnd;
    return { outcome: isPending ? 'undecided' : 'missed', delayMs: null, seenMs };
  }
  const delayMs = deliveredMs - doubt.fromMs;
  const inTime = reportWithinMs === null || delayMs <= reportWithinMs;
  return { outcome: inTime ? 'reported' : 'late', delayMs, seenMs };
}

/** Seen open long enough, but perhaps only as a part of a longer opening, or after the one before had ended. */
function onLaterPart({ alerts, asked }: KnownOf, doubt: Doubtful): Judged {
  const { reportWithinMs } = asked;
  const { fromMs, earliestMs, toMs } = doubt;
  const all = alerts.filter(({ decidedMs }) => isIn({ fromMs: earliestMs, toMs }, decidedMs));
  for (const stretch of doubt.stretches) {
    const deliveredMs = firstDelivery(all.filter(({ decidedMs }) => isIn(stretch, decidedMs)));
    if (deliveredMs === null) continue;
    const delayMs = deliveredMs - fromMs;
    if (reportWithinMs === null || deliveredMs - earliestMs <= reportWithinMs) {
      return { outcome: 'reported', delayMs, seenMs: null };
    }
    const isFirst = firstDelivery(all) === deliveredMs;
    if (isFirst && deliveredMs - stretch.fromMs > reportWithinMs) {
      return { outcome: 'late', delayMs, seenMs: null };
    }
    return plainly('unknown');
  }
  return plainly(firstDelivery(all) === null && !doubt.isUndecidedAtEnd ? 'missed' : 'unknown');
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

function hasTimeLeft({ lengthMs, asked: { reportWithinMs } }: DoubtsOf, fromMs: number): boolean {
  return reportWithinMs === null || lengthMs <= fromMs + reportWithinMs;
}
