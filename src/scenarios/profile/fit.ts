// A usage profile fitted to the openings of a log: visits by the hour, on weekdays and at weekends, what happens in a
// visit, and how long openings last. Openings that count as left open are a kind of their own.

import { dayMs, itemAt, trueMs, yearMs } from '../../base/index.js';
import { type KnownOpening, knownOpenings, seenMsOf } from '../../verdict/index.js';
import type { FittedTo, LoggedDay, UsageProfile } from '../types.js';
import { likelyLengths, withoutCuts } from './cut-lengths.js';
import { shareBeyond } from './evidence.js';
import { type DurationFit, fitDurations } from './fit-durations.js';
import { fitProcess, type LoggedDoor, type ProcessFit } from './fit-process.js';
import { loggedDays } from './logged-days.js';
import { leaveOpensApart, resamplesOf } from './resamples.js';

export interface ProfileFit {
  readonly profile: UsageProfile;
  readonly openings: number;
  readonly lengthMs: number;
  /** How much of it the door was watched: without the spans of which nothing is known. */
  readonly seenMs: number;
  /** Openings of which nobody saw the beginning, or the end: of no known length. */
  readonly unbegun: number;
  readonly unended: number;
  /** Openings that may be brief or leave-opens. */
  readonly unknown: number;
  readonly brief: DurationFit | null;
  readonly leaveOpen: DurationFit | null;
  readonly process: ProcessFit;
}

/** Days say everything that rates and lengths would. */
const daysAlone: UsageProfile = {
  openingsPerHour: Array.from({ length: 24 }, () => 0),
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: { kind: 'fixed', ms: trueMs(1) },
  leaveOpen: null,
};

/**
 * Fits a profile.
 * @param leaveOpenAfterMs from when on an opening counts as left open.
 * @param asLogged draws from the days of the log as they were, in place of fitted distributions.
 * @returns null when the log has no opening that ends.
 */
export function fitProfile(
  door: LoggedDoor,
  leaveOpenAfterMs: number,
  asLogged = false,
): ProfileFit | null {
  const { openings, lengthMs, start, unseen } = door;
  const knownAt = knownOpenings(door, leaveOpenAfterMs);
  const known = Array.from(openings.fromMs, (_, index) => knownAt(index));
  const lengths = fittedLengths(known, asLogged);
  if (lengths === null) return null;
  const seenMs = seenMsOf(door);
  const lengthAt = likelyLengths(known);
  const days = loggedDays(start, lengthMs, openings, { lengthAt, unseen });
  const process = fitProcess(door);
  const apart = leaveOpensApart(seenDays(door, known), leaveOpenAfterMs);
  const habits = { ...process.rates, ...lengths.habits, ...process.visits };
  const fitted: FittedTo = {
    days: Number(Math.max(1, seenMs / dayMs).toPrecision(3)),
    openings: known.length,
    leaveOpens: lengths.leaveOpen?.count ?? 0,
    leaveOpensApart: Number(apart.toPrecision(3)),
    leaveOpenAfterMs: trueMs(leaveOpenAfterMs),
    resamples: asLogged
      ? []
      : resamplesOf({ door, days, apart, leaveOpenAfterMs, process, habits }),
  };
  return {
    profile: asLogged ? { ...daysAlone, days, fitted } : { ...habits, fitted },
    openings: known.length,
    lengthMs,
    seenMs,
    unbegun: known.filter(({ isStartSeen }) => !isStartSeen).length,
    unended: known.filter(({ isEndSeen }) => !isEndSeen).length,
    unknown: known.filter(({ kind }) => kind === 'unknown').length,
    brief: lengths.brief,
    leaveOpen: lengths.leaveOpen,
    process: process.how,
  };
}

/** Each leave-open on its day, as long as it was seen: what is unknown is none. */
function seenDays(door: LoggedDoor, known: readonly KnownOpening[]): readonly LoggedDay[] {
  const { start, lengthMs, openings } = door;
  return loggedDays(start, lengthMs, openings, {
    lengthAt: (index) => itemAt(known, index).seenMs,
  });
}

function fittedLengths(known: readonly KnownOpening[], keep: boolean) {
  if (!known.some(({ isWhole, seenMs }) => isWhole && seenMs > 0)) return null;
  const of = (kind: KnownOpening['kind']): number[] =>
    withoutCuts(known.filter((one) => one.kind === kind && one.seenMs > 0));
  const brief = fitDurations(of('brief'), keep);
  // Kept as they are: cut off below, they are of no usual distribution, and those just long enough are the ones missed.
  const leaveOpen = fitDurations(of('leave-open'), true);
  const usual = brief ?? leaveOpen;
  if (usual === null) return null;
  const share = leaveOpen === null ? 0 : leaveOpen.count / (leaveOpen.count + (brief?.count ?? 0));
  const habits: Pick<UsageProfile, 'duration' | 'leaveOpen'> = {
    duration: usual.distribution,
    leaveOpen:
      leaveOpen === null || brief === null
        ? null
        : { share: Math.round(share * 1e6) / 1e6, duration: leaveOpen.distribution },
  };
  return { brief, leaveOpen, habits };
}

/** Leave-opens per year that the distribution fitted to brief openings adds: it goes on beyond the lengths it was fitted to. */
export function longBriefsPerYear({ brief, seenMs, profile }: ProfileFit): number {
  const afterMs = profile.fitted?.leaveOpenAfterMs;
  if (brief === null || afterMs === undefined) return 0;
  const share = shareBeyond(brief.distribution, afterMs);
  return (share * brief.count * yearMs) / Math.max(dayMs, seenMs);
}
