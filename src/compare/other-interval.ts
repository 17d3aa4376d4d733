// A device whose checks are all as far apart as those of another watch: no outage and no clock explains that.
import { minuteMs } from '../base/index.js';
import { type ClockError, clockErrorRangeOf } from '../world/index.js';

export interface OtherInterval {
  /** The usual time from one check to the next. */
  readonly everyMs: number;
  /** What the watch file has. */
  readonly dueMs: number;
}

/** Fewer show no habit. */
const fewest = 5;
/** Beyond the clock error of the watch file, a clock is believed to err by this share of the interval: common practice, no source. */
const believedShare = 0.15;
/** The most that a time between two stamps of one log errs by, if they are finer than a second: common practice, no source. */
const stampMs = 2_000;
/** The share of the times that must be alike. */
const alikeShare = 0.75;

/** Alike but for a clock and stamps. */
export function isNear(ms: number, everyMs: number): boolean {
  return Math.abs(ms - everyMs) <= 0.1 * everyMs;
}

/** How far their middle may err: errors of stamps that differ cancel, and those of stamps in whole minutes or seconds do not. */
function stampErrorMs(betweenMs: readonly number[]): number {
  const grainMs = [minuteMs, 1_000].find((grain) => betweenMs.every((ms) => ms % grain === 0));
  return grainMs ?? stampMs / Math.sqrt(betweenMs.length);
}

/**
 * The usual time between checks, where no clock explains it.
 * @param betweenMs from a check to the next, where the machine ordered the check interval. @param dueMs with the boot.
 * @param clockError of the watch file.
 * @returns null: it is as in the watch file, or there are too few checks, or no usual time.
 */
export function otherIntervalOf(
  betweenMs: readonly number[],
  dueMs: number,
  clockError: ClockError,
): OtherInterval | null {
  const sorted = [...betweenMs].sort((one, other) => one - other);
  const everyMs = sorted[Math.floor(sorted.length / 2)];
  if (everyMs === undefined || sorted.length < fewest) return null;
  const clock = clockErrorRangeOf(clockError);
  const errsMs = stampErrorMs(betweenMs);
  const leastMs = dueMs * (1 + clock.least / 1e6) * (1 - believedShare) - errsMs;
  const mostMs = dueMs * (1 + clock.most / 1e6) * (1 + believedShare) + errsMs;
  if (everyMs >= leastMs && everyMs <= mostMs) return null;
  const alike = sorted.filter((ms) => isNear(ms, everyMs)).length;
  return alike < alikeShare * sorted.length ? null : { everyMs, dueMs };
}
