// Openings that a log does not know everything of, at every phase. In a span without evidence the door may have done anything, so
// what an opening is depends on where its alerts were decided, and not only on whether one was delivered.
import { cellAt, itemAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { type Doubt, doubtfulOpenings } from '../verdict/index.js';
import { noSpans, type Spans, type World } from '../world/index.js';
import { type Piece, phasesOf } from './piece.js';
import type { WakeOutcome } from './wake-outcome.js';

/** The openings that a span touches, in order. Alerts are looked up in these spans as they are decided. */
export interface Doubts {
  readonly unavailable: Spans;
  readonly list: readonly { readonly opening: number; readonly doubt: Doubt }[];
  /** From when to when an alert may be of each of them. */
  readonly ranges: Spans;
  /** The stretches in which it is known to be. */
  readonly stretches: Spans;
}

export function doubtsOf(
  { openings, lengthMs }: World,
  asked: Requirements,
  unavailable: Spans = noSpans,
): Doubts {
  const doubts = doubtfulOpenings({ openings, unavailable, lengthMs, asked });
  const list = Array.from(doubts, ([opening, doubt]) => ({ opening, doubt }));
  const ranges = list.map(({ opening, doubt }) =>
    doubt.kind === 'settled'
      ? { fromMs: cellAt(openings.fromMs, opening), toMs: cellAt(openings.toMs, opening) }
      : { fromMs: doubt.earliestMs, toMs: doubt.toMs },
  );
  const stretches = list.flatMap(({ doubt }) =>
    doubt.kind === 'settled' ? [] : [...doubt.stretches],
  );
  return { unavailable, list, ranges: inColumns(ranges), stretches: inColumns(stretches) };
}

function inColumns(spans: readonly { readonly fromMs: number; readonly toMs: number }[]): Spans {
  return {
    fromMs: Float64Array.from(spans, ({ fromMs }) => fromMs),
    toMs: Float64Array.from(spans, ({ toMs }) => toMs),
  };
}

/** What a piece remembers of the opening in doubt that an alert of it was of. */
const remembered = { decided: 1, deliveredElsewhere: 2, judged: 4 } as const;

/** How the phases judge one opening in doubt. */
export interface DoubtCounts {
  readonly reported: number;
  readonly inTime: number;
  readonly missed: number;
  /** Of these, those whose alert the end of the timeline cut off. */
  readonly cutOff: number;
  readonly unknown: number;
  readonly isBrief: boolean;
  /** Over the phases that report it. */
  readonly leastDelayMs: number;
  readonly greatestDelayMs: number;
}

export interface DoubtTally {
  /** Counts a decision or a delivery, and notes it in the piece. */
  count(piece: Piece, outcome: WakeOutcome): void;
  /** By the index of the opening; undefined: no span touches it. */
  countsOf(opening: number): DoubtCounts | undefined;
}

export function doubtTally(doubts: Doubts, asked: Requirements, phases: number): DoubtTally {
  const list = doubts.list.map((one) => ({ ...one, count: newCounts() }));
  const byOpening = new Map(list.map((one) => [one.opening, one]));

  const countDecision = (piece: Piece, { decidedIn, decidedStretch }: WakeOutcome): void => {
    if (decidedStretch < 0 || !remember(piece, decidedIn, remembered.decided)) return;
    itemAt(list, decidedIn).count.decided += phasesOf(piece);
  };

  const countDelivery = (piece: Piece, outcome: WakeOutcome): void => {
    const { count, doubt } = itemAt(list, outcome.deliveredIn);
    if (doubt.kind === 'settled') return;
    const isElsewhere = outcome.deliveredStretch < 0;
    if (isElsewhere && doubt.kind === 'first-part') return;
    const before = flagsOf(piece, outcome.deliveredIn);
    if ((before & remembered.judged) !== 0) return;
    const wasElsewhere = (before & remembered.deliveredElsewhere) !== 0;
    if (isElsewhere) {
      remember(piece, outcome.deliveredIn, remembered.deliveredElsewhere);
      if (!wasElsewhere) count.unknown += phasesOf(piece);
      return;
    }
    remember(piece, outcome.deliveredIn, remembered.judged);
    if (wasElsewhere) count.unknown -= phasesOf(piece);
    const withinMs = asked.reportWithinMs ?? Number.POSITIVE_INFINITY;
    countJudged(count, {
      delivered: deliveriesOf(piece, outcome),
      fromMs: doubt.fromMs,
      inTimeUntilMs: doubt.earliestMs + withinMs,
      // After an alert that may have been of another opening, a later one may be too late or not.
      lateAfterMs: wasElsewhere
        ? Number.POSITIVE_INFINITY
        : cellAt(doubts.stretches.fromMs, outcome.deliveredStretch) + withinMs,
    });
  };

  return {
    count(piece, outcome) {
      if (outcome.decidedIn >= 0) countDecision(piece, outcome);
      if (outcome.deliveredIn >= 0) countDelivery(piece, outcome);
    },
    countsOf(opening) {
      const found = byOpening.get(opening);
      return found && { ...found.count, cutOff: 0, ...restOf(found.count, found.doubt, phases) };
    },
  };
}

interface Counts {
  decided: number;
  reported: number;
  inTime: number;
  unknown: number;
  leastDelayMs: number;
  greatestDelayMs: number;
}

function newCounts(): Counts {
  const [leastDelayMs, greatestDelayMs] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  return { decided: 0, reported: 0, inTime: 0, unknown: 0, leastDelayMs, greatestDelayMs };
}

/** The phases at which nothing that counts was delivered. */
function restOf(
  { decided, reported, unknown }: Counts,
  doubt: Doubt,
  phases: number,
): Pick<DoubtCounts, 'missed' | 'unknown' | 'isBrief'> {
  if (doubt.kind === 'settled') {
    const isBrief = doubt.outcome === 'brief';
    return { missed: 0, unknown: isBrief ? 0 : phases, isBrief };
  }
  const isBrief = false;
  if (!doubt.isUndecidedAtEnd) return { missed: phases - reported - unknown, unknown, isBrief };
  return doubt.kind === 'first-part'
    ? { missed: phases - decided, unknown, isBrief }
    : { missed: 0, unknown: phases - reported, isBrief };
}

function flagsOf(piece: Piece, doubt: number): number {
  return piece.doubt === doubt ? piece.doubtFlags : 0;
}

/** @returns whether it is new. */
function remember(piece: Piece, doubt: number, flag: number): boolean {
  const before = flagsOf(piece, doubt);
  piece.doubt = doubt;
  piece.doubtFlags = before | flag;
  return piece.doubtFlags !== before;
}

/** The deliveries of a piece: at each millisecond from the first to the last, or all at once. */
interface Deliveries {
  readonly firstMs: number;
  readonly lastMs: number;
  readonly weight: number;
}

function deliveriesOf(
  piece: Piece,
  { deliveredMs, deliveredSlope }: Pick<WakeOutcome, 'deliveredMs' | 'deliveredSlope'>,
): Deliveries {
  return deliveredSlope === 0
    ? { firstMs: deliveredMs, lastMs: deliveredMs, weight: phasesOf(piece) }
    : { firstMs: deliveredMs, lastMs: deliveredMs + piece.hi - piece.lo, weight: piece.weight };
}

function countJudged(
  count: Counts,
  by: {
    readonly delivered: Deliveries;
    readonly fromMs: number;
    readonly inTimeUntilMs: number;
    readonly lateAfterMs: number;
  },
): void {
  const { firstMs, lastMs, weight } = by.delivered;
  const note = (fromMs: number, toMs: number): number => {
    if (fromMs > toMs) return 0;
    count.leastDelayMs = Math.min(count.leastDelayMs, fromMs - by.fromMs);
    count.greatestDelayMs = Math.max(count.greatestDelayMs, toMs - by.fromMs);
    return (toMs - fromMs + 1) * weight;
  };
  const inTime = note(firstMs, Math.min(lastMs, by.inTimeUntilMs));
  const late = note(Math.max(firstMs, by.inTimeUntilMs + 1, by.lateAfterMs + 1), lastMs);
  count.inTime += inTime;
  count.reported += inTime + late;
  count.unknown += (lastMs - firstMs + 1) * weight - inTime - late;
}
