// What happens at the phases is counted here: how many report each opening and how soon, and the false alarms.
import { cellAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { type JudgedOpenings, judge, type OpeningOutcome } from '../verdict/index.js';
import type { World } from '../world/index.js';
import { type DoubtCounts, type Doubts, doubtTally } from './doubts.js';
import { doorShut, noAlert, type Piece, phasesOf } from './piece.js';
import type { WakeOutcome } from './wake-outcome.js';

/** One opening over all phases. */
export interface OpeningAtEveryPhase {
  /** The share of the phases that report it, and that report it within `reportWithin`; null: the opening is brief or unknown. */
  readonly reportedShare: number | null;
  readonly inTimeShare: number | null;
  /** The share that misses it; 0 if the end of the timeline leaves it undecided without a report. */
  readonly missedShare: number | null;
  /** Of these, the share at which its alert was being sent as the timeline ended, with the network up. */
  readonly cutOffShare: number | null;
  /** Of these, the share that misses it because the charge was used up. */
  readonly unpoweredShare: number | null;
  /** The share with a false alarm of it; 0 unless it is brief. */
  readonly falseAlarmShare: number;
  /** The share at which it is unknown, because of what the log does not know. */
  readonly unknownShare: number;
  /** Of the phases at which an alert of it is delivered; null: at no phase. */
  readonly leastDelayMs: number | null;
  readonly greatestDelayMs: number | null;
}

/** Sums over all phases, each phase as likely as the next. */
export interface PhaseSummary {
  readonly expectedMissed: number;
  readonly expectedLate: number;
  readonly expectedFalseAlarms: number;
  /** The share of the phases with at least one false alarm. */
  readonly falseAlarmShare: number;
}

export interface EveryPhase {
  readonly summary: PhaseSummary & { readonly phaseLengthMs: number };
  /** The period is nominal: the boot time or the clock error varies. */
  readonly isAbout: boolean;
  /** How many runs these are the mean of, each with other times of the ranges of the watch file; absent: it has no ranges. */
  readonly runs?: number;
  /** How many phases were judged, evenly spread, in all these runs; absent: all of them. */
  readonly judged?: number;
  /** The first of the instants at which the device powers on; the last is `phaseLengthMs` − 1 later. */
  readonly firstPowerOnMs: number;
  readonly openingAt: (index: number) => OpeningAtEveryPhase;
}

export interface Tally {
  /** Counts what a wake of a piece did, and notes it in the piece. */
  count(piece: Piece, outcome: WakeOutcome): void;
  /** Counts a piece whose devices do nothing more. */
  finish(piece: Piece): void;
  readonly openingAt: (index: number) => OpeningAtEveryPhase;
  summary(): PhaseSummary;
}

/** How many phases of a piece deliver within a time. */
function phasesWithin(
  piece: Piece,
  of: { readonly firstMs: number; readonly lastMs: number; readonly withinMs: number },
): number {
  const { firstMs, lastMs, withinMs } = of;
  if (firstMs > withinMs) return 0;
  return lastMs <= withinMs ? phasesOf(piece) : (withinMs - firstMs + 1) * piece.weight;
}

export function tallyOf(
  { openings, lengthMs }: World,
  required: Requirements,
  { phases, doubts }: { readonly phases: number; readonly doubts: Doubts },
): Tally {
  // The outcome of each opening if no alert is ever delivered, and the log knew all.
  const silent = judge(openings, { lengthMs, alerts: [], tally: { checks: 0 } }, required).openings;
  const brief = briefOf(silent);
  const doubtful = doubtTally(doubts, required, phases);
  const columns = columnsFor(silent.count);
  const { reported, inTime, cutOff, falsely, least, greatest } = columns;
  const withinMs = required.reportWithinMs ?? Number.POSITIVE_INFINITY;
  const sums = { falseAlarms: 0, alarmedFalsely: 0 };

  const countDelivery = (piece: Piece, { delivered, deliveredMs, deliveredSlope }: WakeOutcome) => {
    const firstMs = deliveredMs - cellAt(openings.fromMs, delivered);
    const lastMs = firstMs + (piece.hi - piece.lo) * deliveredSlope;
    reported[delivered] = cellAt(reported, delivered) + phasesOf(piece);
    least[delivered] = Math.min(cellAt(least, delivered), firstMs);
    greatest[delivered] = Math.max(cellAt(greatest, delivered), lastMs);
    inTime[delivered] =
      cellAt(inTime, delivered) + phasesWithin(piece, { firstMs, lastMs, withinMs });
  };

  const countsAt = (index: number): DoubtCounts => {
    const { outcome } = silent.at(index);
    return doubtful.countsOf(index) ?? countsIn(columns, { index, outcome, phases });
  };

  const isBriefAt = (index: number): boolean =>
    doubtful.countsOf(index)?.isBrief ?? brief[index] === 1;

  return {
    count(piece, outcome) {
      const { decided, delivered } = outcome;
      if (decided !== noAlert && !outcome.isDecidedUnseen) {
        const isFirst = decided === doorShut || decided !== piece.alerted;
        piece.alerted = decided;
        if (isFirst && (decided === doorShut || isBriefAt(decided))) {
          sums.falseAlarms += phasesOf(piece);
          if (decided >= 0) falsely[decided] = cellAt(falsely, decided) + phasesOf(piece);
          piece.alarmedFalsely = true;
        }
      }
      doubtful.count(piece, outcome);
      if (delivered >= 0 && outcome.deliveredIn < 0 && delivered !== piece.delivered) {
        piece.delivered = delivered;
        countDelivery(piece, outcome);
      }
      if (outcome.cutOff >= 0 && outcome.cutOff !== piece.delivered) {
        cutOff[outcome.cutOff] = cellAt(cutOff, outcome.cutOff) + phasesOf(piece);
      }
    },
    finish(piece) {
      if (piece.alarmedFalsely) sums.alarmedFalsely += phasesOf(piece);
    },
    openingAt: (index) => sharesOf(countsAt(index), phases, { falsely: cellAt(falsely, index) }),
    summary: () => ({
      ...leftOpen(silent.leaveOpens, countsAt, phases),
      expectedFalseAlarms: sums.falseAlarms / phases,
      falseAlarmShare: sums.alarmedFalsely / phases,
    }),
  };
}

/** 1 for each opening that is brief. */
function briefOf(openings: JudgedOpenings): Uint8Array {
  const brief = new Uint8Array(openings.count);
  for (let index = 0; index < openings.count; index += 1) {
    if (openings.at(index).outcome === 'brief') brief[index] = 1;
  }
  return brief;
}

/**
 * For each opening: how many phases report it, and in time, have its alert cut off by the end, and have a false alarm of it, and their
 * least and greatest delay.
 */
function columnsFor(count: number) {
  return {
    reported: new Float64Array(count),
    inTime: new Float64Array(count),
    cutOff: new Float64Array(count),
    falsely: new Float64Array(count),
    least: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    greatest: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
  };
}

/** @param at its outcome if no alert is ever delivered. */
function countsIn(
  { reported, inTime, cutOff, least, greatest }: ReturnType<typeof columnsFor>,
  at: { readonly index: number; readonly outcome: OpeningOutcome; readonly phases: number },
): DoubtCounts {
  const { index, outcome, phases } = at;
  const count = cellAt(reported, index);
  const isMissed = outcome === 'missed';
  return {
    reported: count,
    inTime: cellAt(inTime, index),
    missed: isMissed ? phases - count : 0,
    cutOff: isMissed ? cellAt(cutOff, index) : 0,
    unknown: 0,
    isBrief: outcome === 'brief',
    leastDelayMs: cellAt(least, index),
    greatestDelayMs: cellAt(greatest, index),
  };
}

/** Counts of phases as shares of all of them. */
export function sharesOf(
  counts: DoubtCounts,
  phases: number,
  { falsely, unpowered = 0 }: { readonly falsely: number; readonly unpowered?: number },
): OpeningAtEveryPhase {
  const { reported, inTime, missed, cutOff, unknown, isBrief } = counts;
  const share = (count: number): number | null =>
    isBrief || unknown === phases ? null : count / phases;
  return {
    reportedShare: share(reported),
    inTimeShare: share(inTime),
    missedShare: share(missed),
    cutOffShare: share(cutOff),
    unpoweredShare: share(unpowered),
    falseAlarmShare: falsely / phases,
    unknownShare: unknown / phases,
    leastDelayMs: reported === 0 ? null : counts.leastDelayMs,
    greatestDelayMs: reported === 0 ? null : counts.greatestDelayMs,
  };
}

function leftOpen(
  leaveOpens: readonly number[],
  countsAt: (index: number) => DoubtCounts,
  phases: number,
): Pick<PhaseSummary, 'expectedMissed' | 'expectedLate'> {
  let missed = 0;
  let late = 0;
  for (const index of leaveOpens) {
    const counts = countsAt(index);
    missed += counts.missed;
    late += counts.reported - counts.inTime;
  }
  return { expectedMissed: missed / phases, expectedLate: late / phases };
}
