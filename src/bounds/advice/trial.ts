// Settings tried with the same search that found the trouble, as long as there are states left to spend.
import type { WatchSettings } from '../../machine/index.js';
import { calmEnvironment, mostRemedyStates } from '../../model/index.js';
import { bounceMarginsOf, quietInSpiteOf } from '../bounce.js';
import { longestMs, type Searched, searched, searchesFor, sureFromMs } from '../bounds.js';
import type { Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import type { SearchOptions } from '../search.js';
import { unlessOutgrown } from '../visited.js';
import { type Replanned, replanning } from './plan.js';

/** What the trials of one question may still spend. */
interface Meter {
  states: number;
  /** Whether a trial has been stopped, or left out. */
  isCutShort: boolean;
}

type InCalm = 'yes' | 'slow' | 'nervous';

/** A question asked of other settings; no question is searched twice. */
export interface Trials {
  readonly replanned: Replanned;
  /** Safe bounds with which all requirements are met; null: they are not, or it is not known. */
  proved(changes: Partial<WatchSettings>, from: Start): Proved | null;
  /** The same at rest and with nothing going wrong: what does not hold there holds nowhere, and it takes next to nothing. */
  inCalm(changes: Partial<WatchSettings>): InCalm;
  /** Whether quietUpTo is met, whatever becomes of the other requirements; false also where it is not known. */
  isQuiet(changes: Partial<WatchSettings>): boolean;
  /** From which length on every opening is reported at rest; null: no such length, undefined: not known. */
  sureFromMs(changes: Partial<WatchSettings>): number | null | undefined;
  /** What holds at rest, whatever the requirements; undefined: not known. */
  restBounds(changes: Partial<WatchSettings>): RestBounds | undefined;
  /** Trials of this question, or of another that is like it, with states of their own to spend. */
  again(question?: BoundsQuestion): Trials;
  /** Whether a trial of these, or of those opened from them, took too long: what is not proved may still hold. */
  isCutShort(): boolean;
}

/** Null: no opening is long enough to be sure; no limit. */
export interface RestBounds {
  readonly sureFromMs: number | null;
  readonly worstDelayMs: number | null;
}

export function openTrials(question: BoundsQuestion): Trials {
  const replanned = replanning(question);
  const meter: Meter = { states: mostRemedyStates, isCutShort: false };
  const others: Trials[] = [];
  const provedOf = remembered<Proved | null>();
  const calmOf = remembered<InCalm>();
  const restOf = remembered<RestBounds | undefined>();
  const quietOf = remembered<boolean>();
  // No cooldown runs where the first opening is all that happens.
  const restBounds = ({ alertCooldownMs: _, ...changes }: Partial<WatchSettings>) =>
    restOf(changes, (): RestBounds | undefined => {
      const slowest = spent(replanned(changes), safely('atRest'), meter);
      if (slowest === null) return undefined;
      const { result } = slowest;
      return { sureFromMs: sureFromMs(result), worstDelayMs: longestMs(result) };
    });
  return {
    replanned,
    proved: (changes, from) =>
      provedOf([changes, from], () => proved(replanned(changes), from, meter)),
    // No cooldown runs where the first opening is all that happens.
    inCalm: ({ alertCooldownMs: _, ...changes }) =>
      calmOf(changes, () => holdsInCalm(replanned(changes), meter)),
    isQuiet: (changes) => quietOf(changes, () => quietEnough(replanned(changes), meter) !== null),
    sureFromMs: (changes) => restBounds(changes)?.sureFromMs,
    restBounds,
    again: (other = question) => {
      const opened = openTrials(other);
      others.push(opened);
      return opened;
    },
    isCutShort: () => meter.isCutShort || others.some((opened) => opened.isCutShort()),
  };
}

function remembered<T>(): (of: unknown, find: () => T) => T {
  const known = new Map<string, T>();
  return (of, find) => {
    const key = JSON.stringify(of);
    const before = known.get(key);
    if (before !== undefined) return before;
    const now = find();
    known.set(key, now);
    return now;
  };
}

/** Bounds of settings that meet the requirements. */
export interface Proved {
  readonly alwaysReportedFromMs: number;
  readonly worstDelayMs: number | null;
  readonly neverAlarmedUpToMs: number | null;
}

const forEver = Number.POSITIVE_INFINITY;

function proved(question: BoundsQuestion, from: Start, meter: Meter): Proved | null {
  const quick = quickEnough(question, safely(from), meter);
  if (quick === null) return null;
  const quiet = quietEnough(question, meter);
  return quiet === null ? null : { ...quick, ...quiet };
}

function holdsInCalm(question: BoundsQuestion, meter: Meter): InCalm {
  const calm: BoundsQuestion = { ...question, environment: calmEnvironment };
  if (quickEnough(calm, safely('atRest'), meter) === null) return 'slow';
  if (question.judge.quietUpToMs === null) return 'yes';
  return quietEnough(calm, meter) === null ? 'nervous' : 'yes';
}

/** Enough to choose settings by, and far sooner found where there are heartbeats. */
function safely(from: Start): SearchOptions {
  return { ...searchesFor[from], isSafeEnough: true };
}

function quickEnough(
  question: BoundsQuestion,
  options: SearchOptions,
  meter: Meter,
): Pick<Proved, 'alwaysReportedFromMs' | 'worstDelayMs'> | null {
  const lateMs = bounceMarginsOf(question).lateMs[options.from === 'rest' ? 'atRest' : 'anyState'];
  if (!Number.isFinite(lateMs)) return null;
  const leaveOpenAfterMs = question.judge.leaveOpenAfterMs - lateMs;
  const reportWithinMs =
    question.judge.reportWithinMs === null ? null : question.judge.reportWithinMs - lateMs;
  const asked = { reportedFromMs: leaveOpenAfterMs, deliveryMs: reportWithinMs ?? forEver };
  const slowest = spent(question, { ...options, asked }, meter);
  if (slowest === null) return null;
  const alwaysReportedFromMs = sureFromMs(slowest.result);
  const worstDelayMs = longestMs(slowest.result);
  if (alwaysReportedFromMs === null || alwaysReportedFromMs > leaveOpenAfterMs) return null;
  if (reportWithinMs !== null && (worstDelayMs === null || worstDelayMs > reportWithinMs)) {
    return null;
  }
  return { alwaysReportedFromMs, worstDelayMs };
}

function quietEnough(
  question: BoundsQuestion,
  meter: Meter,
): Pick<Proved, 'neverAlarmedUpToMs'> | null {
  const { quietUpToMs } = question.judge;
  const quickest = spent(question, searchesFor.quickest, meter);
  if (quickest === null) return null;
  const neverAlarmedUpToMs = quickest.result.decision?.openingMs ?? null;
  const shownMs = quietInSpiteOf(bounceMarginsOf(question), neverAlarmedUpToMs ?? forEver);
  if (quietUpToMs !== null && quietUpToMs > shownMs) return null;
  return { neverAlarmedUpToMs };
}

function spent(question: BoundsQuestion, options: SearchOptions, meter: Meter): Searched | null {
  if (meter.states <= 0) {
    meter.isCutShort = true;
    return null;
  }
  return unlessOutgrown(
    () => {
      const found = searched(question, { ...options, mostNodes: meter.states });
      meter.states -= found.result.nodes;
      return found;
    },
    ({ mostNodes }) => {
      meter.states -= mostNodes;
      meter.isCutShort = true;
      return null;
    },
  );
}
