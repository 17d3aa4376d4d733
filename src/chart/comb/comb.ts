// The checks as a comb that slides under an opening: where fewer of its teeth than the threshold fall inside, the opening is
// missed. The share of these positions is the chance that it goes unreported.
import { clockErrorsOf, sleepsOf } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';

export interface Comb {
  /** From one check to the next while they read shut. */
  readonly periodMs: number;
  /** From an open check to the next, until the alert is decided. */
  readonly recheckMs: number;
  /** Open checks that decide an alert. */
  readonly teeth: number;
  /** The opening. */
  readonly lengthMs: number;
  /** Of the positions of the comb, those that report the opening. */
  readonly reportedShare: number;
}

/** One position of the comb. */
export interface CombPosition {
  /** From the start of the opening to its first check, 0 to one period. */
  readonly firstMs: number;
  /** Instants of checks, from the start of the opening; below 0: before it. */
  readonly checksMs: readonly number[];
  /** How many of them read open, up to the deciding one. */
  readonly inside: number;
  /** The check that decides the alert; null: the opening is missed. */
  readonly decidedMs: number | null;
}

/**
 * How far a tooth inside the opening lies before the next one, where that is not as far as between any others; null: it is, or one
 * tooth inside decides the alert.
 */
export function insideMs({ periodMs, recheckMs, teeth }: Comb): number | null {
  return teeth === 1 || recheckMs === periodMs ? null : recheckMs;
}

/** The most teeth that are drawn of one position. */
const mostTeeth = 60;

/**
 * The comb of a watch for an opening just as long as counts as left open.
 * @returns null where the checks are no rigid comb: a contact wakes the device, or boot time or clock error vary.
 */
export function combOf({ watch, timing, judge }: WatchFile): Comb | null {
  const { least, most } = clockErrorsOf(timing.clockError);
  const boot = timing.bootTime;
  if (watch.wakeOn !== 'timer' || least !== most || boot.least !== boot.most) return null;
  const [check, recheck] = sleepsOf(watch, timing);
  const periodMs = check.leastMs + boot.least;
  const recheckMs = recheck.leastMs + boot.least;
  const { open: teeth } = watch.escalationThreshold;
  const lengthMs = judge.leaveOpenAfterMs;
  const reported = Math.min(periodMs, Math.max(0, lengthMs - (teeth - 1) * recheckMs));
  return { periodMs, recheckMs, teeth, lengthMs, reportedShare: reported / periodMs };
}

/** @param firstMs from the start of the opening to its first check, from 0 to below one period. */
export function combAt(comb: Comb, firstMs: number, untilMs: number): CombPosition {
  const { periodMs, recheckMs, teeth, lengthMs } = comb;
  const before = [firstMs - 2 * periodMs, firstMs - periodMs];
  const checksMs = [...before];
  let inside = 0;
  let decidedMs: number | null = null;
  let atMs = firstMs;
  while (atMs <= untilMs && checksMs.length < mostTeeth) {
    checksMs.push(atMs);
    const readsOpen = atMs < lengthMs;
    if (readsOpen && decidedMs === null) {
      inside += 1;
      if (inside === teeth) decidedMs = atMs;
    }
    atMs += readsOpen && decidedMs === null ? recheckMs : periodMs;
  }
  return { firstMs, checksMs, inside, decidedMs };
}
