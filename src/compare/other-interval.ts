// A device whose checks are all as far apart as those of another watch: no outage and no clock explains that.

export interface OtherInterval {
  /** The usual time from one check to the next. */
  readonly everyMs: number;
  /** What the watch file has. */
  readonly dueMs: number;
}

/** Fewer show no habit. */
const fewest = 5;
/** Beyond these parts of the interval it is no error of a clock, and not the same interval. */
const [least, most] = [0.8, 1.5];
/** So many of the times must be alike. */
const alikeShare = 0.75;

/** Alike but for a clock and stamps. */
export function isNear(ms: number, everyMs: number): boolean {
  return Math.abs(ms - everyMs) <= 0.1 * everyMs;
}

/** @param betweenMs from a check to the next, where the machine ordered the check interval. @param dueMs with the boot. */
export function otherIntervalOf(betweenMs: readonly number[], dueMs: number): OtherInterval | null {
  const sorted = [...betweenMs].sort((one, other) => one - other);
  const everyMs = sorted[Math.floor(sorted.length / 2)];
  if (everyMs === undefined || sorted.length < fewest) return null;
  if (everyMs >= least * dueMs && everyMs <= most * dueMs) return null;
  const alike = sorted.filter((ms) => isNear(ms, everyMs)).length;
  return alike < alikeShare * sorted.length ? null : { everyMs, dueMs };
}
