// What happens at the phases is counted here: how many report each opening and how soon, and the false alarms.
import { cellAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { type JudgedOpenings, judge } from '../verdict/index.js';
import type { World } from '../world/index.js';
import type { WakeOutcome } from './advance.js';
import { doorShut, noAlert, type Piece, phasesOf } from './piece.js';

/** One opening over all phases. */
export interface OpeningAtEveryPhase {
  /** The share of the phases that report it, and that report it within `reportWithin`; null: the opening is brief. */
  readonly reportedShare: number | null;
  readonly inTimeShare: number | null;
  /** The share that misses it; 0 if the end of the timeline leaves it undecided without a report. */
  readonly missedShare: number | null;
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

export function tallyOf(world: World, required: Requirements, phases: number): Tally {
  const { openings, lengthMs } = world;
  // The outcome of each opening if no alert is ever delivered.
  const silent = judge(openings, { lengthMs, alerts: [], tally: { checks: 0 } }, required).openings;
  const reported = new Float64Array(silent.count);
  const inTime = new Float64Array(silent.count);
  const least = new Float64Array(silent.count).fill(Number.POSITIVE_INFINITY);
  const greatest = new Float64Array(silent.count).fill(Number.NEGATIVE_INFINITY);
  const withinMs = required.reportWithinMs ?? Number.POSITIVE_INFINITY;
  let falseAlarms = 0;
  let alarmedFalsely = 0;

  const countDelivery = (piece: Piece, { delivered, deliveredMs, deliveredSlope }: WakeOutcome) => {
    const firstMs = deliveredMs - cellAt(openings.fromMs, delivered);
    const lastMs = firstMs + (piece.hi - piece.lo) * deliveredSlope;
    reported[delivered] = cellAt(reported, delivered) + phasesOf(piece);
    least[delivered] = Math.min(cellAt(least, delivered), firstMs);
    greatest[delivered] = Math.max(cellAt(greatest, delivered), lastMs);
    const soon =
      firstMs > withinMs
        ? 0
        : lastMs <= withinMs
          ? phasesOf(piece)
          : (withinMs - firstMs + 1) * piece.weight;
    inTime[delivered] = cellAt(inTime, delivered) + soon;
  };

  return {
    count(piece, outcome) {
      const { decided, delivered } = outcome;
      if (decided !== noAlert) {
        const isFirst = decided === doorShut || decided !== piece.alerted;
        piece.alerted = decided;
        if (isFirst && (decided === doorShut || silent.at(decided).outcome === 'brief')) {
          falseAlarms += phasesOf(piece);
          piece.alarmedFalsely = true;
        }
      }
      if (delivered >= 0 && delivered !== piece.delivered) {
        piece.delivered = delivered;
        countDelivery(piece, outcome);
      }
    },
    finish(piece) {
      if (piece.alarmedFalsely) alarmedFalsely += phasesOf(piece);
    },
    openingAt(index) {
      const count = cellAt(reported, index);
      const { outcome } = silent.at(index);
      const isBrief = outcome === 'brief';
      return {
        reportedShare: isBrief ? null : count / phases,
        inTimeShare: isBrief ? null : cellAt(inTime, index) / phases,
        missedShare: isBrief ? null : outcome === 'missed' ? (phases - count) / phases : 0,
        leastDelayMs: count === 0 ? null : cellAt(least, index),
        greatestDelayMs: count === 0 ? null : cellAt(greatest, index),
      };
    },
    summary: () => ({
      ...leftOpen(silent, { reported, inTime, phases }),
      expectedFalseAlarms: falseAlarms / phases,
      falseAlarmShare: alarmedFalsely / phases,
    }),
  };
}

function leftOpen(
  silent: JudgedOpenings,
  of: {
    readonly reported: Float64Array;
    readonly inTime: Float64Array;
    readonly phases: number;
  },
): Pick<PhaseSummary, 'expectedMissed' | 'expectedLate'> {
  let missed = 0;
  let late = 0;
  for (const index of silent.leaveOpens) {
    const reported = cellAt(of.reported, index);
    late += reported - cellAt(of.inTime, index);
    if (silent.at(index).outcome === 'missed') missed += of.phases - reported;
  }
  return { expectedMissed: missed / of.phases, expectedLate: late / of.phases };
}
