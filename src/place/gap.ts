// The gap at which a contact changes, from trials on both sides of it. A trial reads shut at gap g with probability
// Φ((T − g) / s): T is the gap sought, s how far ruler, hand and contact err together. T and s are unknown: the interval is the
// middle 95 % of T's posterior, with even priors on T and on the logarithm of s.
import jStat from 'jstat';
import type { Trial } from './trials.js';

export interface GapEstimate {
  /** The middle of the posterior. */
  readonly mm: number;
  /** It holds the gap in 95 of 100 such sets of trials. */
  readonly lowMm: number;
  readonly highMm: number;
  /** How far trials err, at the best fit. */
  readonly errorMm: number;
}

const stepMm = 0.1;
/** A careful ruler; and a door that does not stand still. */
const errorsMm = [0.2, 0.3, 0.45, 0.7, 1, 1.5, 2.2, 3.2] as const;
const marginMm = 6;
const tail = 0.025;
/** Below this, no set of trials at a door can say that a row is wrong. */
const leastErrorMm = 0.3;

/** Without the noise of binary fractions, which would round 9.6 mm up to 9.7 mm. */
export const wholeUm = (mm: number): number => Math.round(mm * 1000) / 1000;

/** Null: the trials of this direction do not read both open and shut, so that one end is open. */
export function gapOf(trials: readonly Trial[]): GapEstimate | null {
  const shut = trials.filter(({ reads }) => reads === 'shut').map(({ gapMm }) => gapMm);
  const open = trials.filter(({ reads }) => reads === 'open').map(({ gapMm }) => gapMm);
  if (shut.length === 0 || open.length === 0) return null;
  const all = [...shut, ...open];
  const fromMm = Math.max(0, all.reduce((a, b) => Math.min(a, b)) - marginMm);
  const toMm = all.reduce((a, b) => Math.max(a, b)) + marginMm;
  const count = Math.ceil((toMm - fromMm) / stepMm);
  const alike = countAlike(trials);
  const logs = errorsMm.map((errorMm) =>
    Array.from({ length: count }, (_, index) =>
      logLikelihood(alike, { gapMm: fromMm + index * stepMm, errorMm }),
    ),
  );
  const best = logs.flat().reduce((a, b) => Math.max(a, b));
  const weights = Array.from({ length: count }, (_, index) =>
    logs.reduce((sum, row) => sum + Math.exp((row[index] ?? -1e9) - best), 0),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const at = (share: number): number => {
    let sum = 0;
    let index = 0;
    while (index < count && sum < share * total) {
      sum += weights[index] ?? 0;
      index += 1;
    }
    return wholeUm(fromMm + (index - 1) * stepMm);
  };
  const fits = logs.map((row) => row.reduce((a, b) => Math.max(a, b)));
  const errorMm = errorsMm[fits.indexOf(best)] ?? errorsMm[0];
  return { mm: at(0.5), lowMm: at(tail), highMm: at(1 - tail), errorMm };
}

/**
 * With open and shut exchanged, the trials fit at least this many times as well: less can be chance, with two trials near the
 * gap as well as with many.
 */
const reversedTimes = 20;

/** The trials of one direction read open near the switch, and shut far from it; one odd row alone cannot say so. */
export function isWrongWayRound(trials: readonly Trial[]): boolean {
  if (new Set(trials.map(({ reads }) => reads)).size < 2) return false;
  if (betterExchanged(trials) <= Math.log(reversedTimes)) return false;
  // Of trials that are alike, one is left out for all.
  const kinds = new Map(trials.map((trial) => [`${trial.reads} ${String(trial.gapMm)}`, trial]));
  return [...kinds.values()].every(
    (trial) => betterExchanged(trials.filter((other) => other !== trial)) > 0,
  );
}

/** By how much trials fit better with open and shut exchanged, in logarithms; without both readings nothing says that they do not. */
function betterExchanged(trials: readonly Trial[]): number {
  const exchanged = trials.map(
    (trial): Trial => ({ ...trial, reads: trial.reads === 'shut' ? 'open' : 'shut' }),
  );
  const [asRead, asExchanged] = [bestFit(trials), bestFit(exchanged)];
  if (asRead === null || asExchanged === null) return Number.POSITIVE_INFINITY;
  return asExchanged - asRead;
}

/** The logarithm of the likelihood at the gap and the error that fit best; null as for `gapOf`. */
function bestFit(trials: readonly Trial[]): number | null {
  const gapsMm = trials.map(({ gapMm }) => gapMm);
  if (new Set(trials.map(({ reads }) => reads)).size < 2) return null;
  const alike = countAlike(trials);
  const fromMm = Math.max(0, gapsMm.reduce((a, b) => Math.min(a, b)) - marginMm);
  const toMm = gapsMm.reduce((a, b) => Math.max(a, b)) + marginMm;
  const count = Math.ceil((toMm - fromMm) / stepMm);
  let best = -Infinity;
  for (const errorMm of errorsMm) {
    for (let index = 0; index < count; index += 1) {
      const gapMm = fromMm + index * stepMm;
      best = Math.max(best, logLikelihood(alike, { gapMm, errorMm }));
    }
  }
  return best;
}

/** Trials at one gap that read the same, and how many they are. */
interface AlikeTrials {
  readonly gapMm: number;
  readonly reads: Trial['reads'];
  /** How far the gap itself may be wrong. */
  readonly ownMm: number;
  count: number;
}

function countAlike(trials: readonly Trial[]): readonly AlikeTrials[] {
  const groups = new Map<string, AlikeTrials>();
  for (const { gapMm, reads, errorMm: ownMm = 0 } of trials) {
    const key = `${reads} ${String(gapMm)} ${String(ownMm)}`;
    const group = groups.get(key) ?? { gapMm, reads, ownMm, count: 0 };
    group.count += 1;
    groups.set(key, group);
  }
  return [...groups.values()];
}

function logLikelihood(
  trials: readonly AlikeTrials[],
  { gapMm: thresholdMm, errorMm }: { readonly gapMm: number; readonly errorMm: number },
): number {
  return trials.reduce((sum, { gapMm, reads, count, ownMm }) => {
    const z = (thresholdMm - gapMm) / Math.sqrt(errorMm * errorMm + ownMm * ownMm);
    const probability = jStat.normal.cdf(reads === 'shut' ? z : -z, 0, 1);
    return sum + count * Math.log(Math.max(1e-12, probability));
  }, 0);
}

/**
 * Trials that contradict the others of their direction: without this one, the rest puts the gap far on its other side. They are
 * shown, and not averaged away.
 */
export function oddRows(trials: readonly Trial[]): readonly Trial[] {
  const whole = gapOf(trials);
  if (whole === null) return [];
  return trials.filter((trial) => {
    // On the right side of the gap by all rows. A wrong row widens their error, so that error cannot excuse it.
    const offMm = trial.reads === 'shut' ? trial.gapMm - whole.mm : whole.mm - trial.gapMm;
    if (offMm <= 0) return false;
    const rest = gapOf(trials.filter((other) => other !== trial));
    if (rest === null) return false;
    const sd = Math.max(rest.errorMm, (rest.highMm - rest.lowMm) / 4, leastErrorMm);
    const wrongByMm = trial.reads === 'shut' ? trial.gapMm - rest.mm : rest.mm - trial.gapMm;
    return wrongByMm > 3 * sd;
  });
}
