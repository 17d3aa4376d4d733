// What a set of trials says: both gaps, the rows that contradict, and whether a door that sticks is seen.
import { type GapEstimate, gapOf, isWrongWayRound, oddRows, wholeUm } from './gap.js';
import type { Trial } from './trials.js';

export interface Placement {
  /** Null: trials while closing do not read both, or read the wrong way round. */
  readonly operate: GapEstimate | null;
  readonly release: GapEstimate | null;
  readonly odd: readonly Trial[];
  /** In these directions the contact reads open near the switch and shut far from it: they have no gap. */
  readonly wrongWay: readonly Trial['direction'][];
  /** So it is in some direction; or it would shut at a larger gap than it opens at: closing and opening were exchanged. */
  readonly isReversed: boolean;
}

export function placementOf(trials: readonly Trial[]): Placement {
  const closing = trials.filter(({ direction }) => direction === 'closing');
  const opening = trials.filter(({ direction }) => direction === 'opening');
  const ways = { closing, opening };
  const both = ['closing', 'opening'] as const;
  const wrongWay = both.filter((way) => isWrongWayRound(ways[way]));
  const odd = both.flatMap((way) => (wrongWay.includes(way) ? [] : oddRows(ways[way])));
  // A row that cannot be says nothing of the gap: with it, the interval would lie between two truths.
  const without = (rows: readonly Trial[]) => rows.filter((row) => !odd.includes(row));
  const gap = (way: Trial['direction']) =>
    wrongWay.includes(way) ? null : gapOf(without(ways[way]));
  const [operate, release] = [gap('closing'), gap('opening')];
  const isCrossed = operate !== null && release !== null && operate.lowMm > release.highMm;
  return { operate, release, odd, wrongWay, isReversed: isCrossed || wrongWay.length > 0 };
}

/** What a door does that sticks at a gap. */
export interface StickVerdict {
  readonly gapMm: number;
  /** `open`: it reads open; `shut`: shut however it came there; `creeping`: shut if it crept open, open if it was pushed. */
  readonly reads: 'open' | 'shut' | 'creeping' | 'doubtful';
  /** By how much the magnet must move away from the switch for it to read open there; null: it reads open. */
  readonly moveAwayMm: number | null;
  /** After that move the contact still shuts for a shut door. */
  readonly staysShut: boolean;
  /** It may not, but only because the intervals are wide: by their middles it would. */
  readonly needsTrials: boolean;
  /** How far apart the two gaps of a contact may lie that sees the door there and reads a shut door shut; 0 or less: none can. */
  readonly gapsApartMm: number;
}

/** Kept clear of the ends of intervals. */
const spareMm = 1;

export function stickOf(
  { operate, release }: Placement,
  gapMm: number,
  sealMm: number,
): StickVerdict | null {
  if (operate === null || release === null) return null;
  const gapsApartMm = wholeUm(gapMm - sealMm - spareMm);
  if (gapMm > release.highMm) {
    const seen = { reads: 'open', moveAwayMm: null, staysShut: true, needsTrials: false } as const;
    return { gapMm, ...seen, gapsApartMm };
  }
  const moveAwayMm = wholeUm(release.highMm - gapMm + spareMm);
  const staysShut = wholeUm(operate.lowMm - moveAwayMm) >= sealMm;
  const reads =
    gapMm < operate.lowMm
      ? 'shut'
      : gapMm > operate.highMm && gapMm < release.lowMm
        ? 'creeping'
        : 'doubtful';
  const middleMm = wholeUm(Math.max(0, release.mm - gapMm + spareMm));
  const needsTrials = !staysShut && wholeUm(operate.mm - middleMm) >= sealMm;
  return { gapMm, reads, moveAwayMm, staysShut, needsTrials, gapsApartMm };
}
