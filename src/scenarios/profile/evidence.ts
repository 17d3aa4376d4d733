// What the log of a fitted profile shows of leave-opens, for a watch file that may count them from another length on than the fit did.
import { trueMs } from '../../base/index.js';
import type { DurationDistribution, FittedTo, UsageProfile } from '../types.js';
import { normalShare } from './normal-share.js';
import { exponential, logarithm } from './portable-math.js';

/** What a profile was fitted to, as far as it bounds what it lacks; null: nothing. */
export function evidenceOf(profile: UsageProfile, leaveOpenAfterMs: number) {
  const { fitted, leaveOpen } = profile;
  if (fitted === undefined) return null;
  const { days, openings, leaveOpensApart } = fitted;
  const isRecounted = isFittedElsewhere(profile, leaveOpenAfterMs);
  const leaveOpens = isRecounted ? recounted(profile, fitted, leaveOpenAfterMs) : fitted.leaveOpens;
  const isWritten = fitted.leaveOpens === 0 && leaveOpen !== null;
  // As many of them come apart as of those that were counted.
  const apart =
    leaveOpensApart === undefined || fitted.leaveOpens === 0 || leaveOpens === 0
      ? null
      : Math.min(leaveOpens, (leaveOpensApart * leaveOpens) / fitted.leaveOpens);
  return {
    days,
    openings,
    leaveOpens,
    ...(apart === null ? {} : { leaveOpensApart: apart }),
    ...(isWritten ? { isWritten } : {}),
    ...(isRecounted ? { isRecounted } : {}),
  };
}

/** Whether the profile was fitted where openings count as left open from another length on. */
export function isFittedElsewhere({ fitted }: UsageProfile, leaveOpenAfterMs: number): boolean {
  const fittedMs = fitted?.leaveOpenAfterMs;
  return fittedMs !== undefined && fittedMs !== leaveOpenAfterMs;
}

/** How many openings of the log were that long, by the lengths that the profile has of them; rounded down, since fewer show less. */
function recounted(
  { days, duration, leaveOpen }: UsageProfile,
  { openings, leaveOpens, leaveOpenAfterMs = trueMs(0) }: FittedTo,
  afterMs: number,
): number {
  if (days !== undefined) {
    return days.reduce(
      (sum, day) => sum + day.openings.filter(({ forMs }) => forMs >= afterMs).length,
      0,
    );
  }
  const whole = (count: number): number => Math.floor(count + 1e-9);
  if (afterMs < leaveOpenAfterMs) {
    return leaveOpens + whole((openings - leaveOpens) * shareBeyond(duration, afterMs));
  }
  return whole(leaveOpens * shareBeyond(leaveOpen?.duration ?? duration, afterMs));
}

/** The share of a distribution at or beyond a length. */
export function shareBeyond(distribution: DurationDistribution, ms: number): number {
  switch (distribution.kind) {
    case 'exponential':
      return exponential(-ms / distribution.meanMs);
    case 'lognormal':
      return 1 - normalShare(logarithm(ms / distribution.medianMs) / distribution.sigma);
    case 'fixed':
      return distribution.ms >= ms ? 1 : 0;
    case 'drawn':
      return distribution.ms.filter((one) => one >= ms).length / distribution.ms.length;
  }
}
