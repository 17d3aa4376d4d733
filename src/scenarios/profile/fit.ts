// A usage profile fitted to the openings of a log: visits by the hour, on weekdays and at weekends, what happens in a
// visit, and how long openings last. Openings that count as left open are a kind of their own.

import { cellAt, dayMs, trueMs, yearMs } from '../../base/index.js';
import type { FittedTo, UsageProfile } from '../types.js';
import { type DurationFit, fitDurations } from './fit-durations.js';
import { fitProcess, type LoggedDoor, type ProcessFit } from './fit-process.js';
import { loggedDays } from './logged-days.js';
import { normalShare } from './normal-share.js';
import { exponential, logarithm } from './portable-math.js';
import { leaveOpensApart, resamplesOf } from './resamples.js';

export interface ProfileFit {
  readonly profile: UsageProfile;
  readonly openings: number;
  readonly lengthMs: number;
  /** Openings without an end in the log: counted, and of no known length. */
  readonly unended: number;
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
  const { openings, lengthMs, start } = door;
  const lengths = fittedLengths(door, leaveOpenAfterMs, asLogged);
  if (lengths === null) return null;
  const count = openings.fromMs.length;
  const days = loggedDays(start, lengthMs, openings);
  const process = fitProcess(door);
  const habits = { ...process.rates, ...lengths.habits, ...process.visits };
  const fitted: FittedTo = {
    days: Number(Math.max(1, lengthMs / dayMs).toPrecision(3)),
    openings: count,
    leaveOpens: lengths.leaveOpen?.count ?? 0,
    leaveOpensApart: Number(leaveOpensApart(days, leaveOpenAfterMs).toPrecision(3)),
    leaveOpenAfterMs: trueMs(leaveOpenAfterMs),
    resamples: asLogged ? [] : resamplesOf({ door, days, leaveOpenAfterMs, process, habits }),
  };
  return {
    profile: asLogged ? { ...daysAlone, days, fitted } : { ...habits, fitted },
    openings: count,
    lengthMs,
    unended: lengths.unended,
    brief: lengths.brief,
    leaveOpen: lengths.leaveOpen,
    process: process.how,
  };
}

/** The lengths that are known: those of openings that end within the log. */
function knownLengths({ openings, lengthMs }: LoggedDoor): number[] {
  return [...openings.fromMs]
    .map((fromMs, index) => cellAt(openings.toMs, index) - fromMs)
    .filter((ms, index) => ms > 0 && cellAt(openings.toMs, index) <= lengthMs);
}

function fittedLengths(door: LoggedDoor, leaveOpenAfterMs: number, keep: boolean) {
  const durations = knownLengths(door);
  const brief = fitDurations(
    durations.filter((ms) => ms < leaveOpenAfterMs),
    keep,
  );
  // Kept as they are: cut off below, they are of no usual distribution, and those just long enough are the ones missed.
  const leaveOpen = fitDurations(
    durations.filter((ms) => ms >= leaveOpenAfterMs),
    true,
  );
  const usual = brief ?? leaveOpen;
  if (usual === null) return null;
  const share = leaveOpen === null ? 0 : leaveOpen.count / durations.length;
  const habits: Pick<UsageProfile, 'duration' | 'leaveOpen'> = {
    duration: usual.distribution,
    leaveOpen:
      leaveOpen === null || brief === null
        ? null
        : { share: Math.round(share * 1e6) / 1e6, duration: leaveOpen.distribution },
  };
  return { brief, leaveOpen, habits, unended: door.openings.fromMs.length - durations.length };
}

/** Leave-opens per year that the distribution fitted to brief openings adds: it goes on beyond the lengths it was fitted to. */
export function longBriefsPerYear({ brief, lengthMs, profile }: ProfileFit): number {
  const afterMs = profile.fitted?.leaveOpenAfterMs;
  if (brief === null || afterMs === undefined) return 0;
  return (
    (tailBeyond(brief.distribution, afterMs) * brief.count * yearMs) / Math.max(dayMs, lengthMs)
  );
}

/** The share of a distribution at or beyond a length. Lengths drawn from the brief ones of a log stay below it. */
function tailBeyond(distribution: DurationFit['distribution'], ms: number): number {
  switch (distribution.kind) {
    case 'exponential':
      return exponential(-ms / distribution.meanMs);
    case 'lognormal':
      return 1 - normalShare(logarithm(ms / distribution.medianMs) / distribution.sigma);
    case 'fixed':
    case 'drawn':
      return 0;
  }
}
