// A usage profile fitted to the openings of a log: how many in each hour of the day, on weekdays and at weekends, and
// how long they last. Openings that count as left open are a kind of their own.

import { cellAt } from '../../base/index.js';
import { mostOpeningsAnHour } from '../../model/index.js';
import type { Spans } from '../../world/index.js';
import { localDays, localTime } from '../time/local-time.js';
import type { TimelineStart, UsageProfile } from '../types.js';
import { type DurationFit, fitDurations } from './fit-durations.js';

const hourMs = 3_600_000;

/** What is fitted to. */
export interface LoggedDoor {
  readonly start: TimelineStart;
  readonly lengthMs: number;
  readonly openings: Spans;
}

export interface ProfileFit {
  readonly profile: UsageProfile;
  readonly openings: number;
  readonly lengthMs: number;
  /** Openings without an end in the log: counted, and of no known length. */
  readonly unended: number;
  readonly brief: DurationFit | null;
  readonly leaveOpen: DurationFit | null;
}

/**
 * Fits a profile.
 * @param leaveOpenAfterMs from when on an opening counts as left open.
 * @param keepLengths draws from the lengths as they were logged, in place of a distribution.
 * @returns null when the log has no opening that ends.
 */
export function fitProfile(
  door: LoggedDoor,
  leaveOpenAfterMs: number,
  keepLengths = false,
): ProfileFit | null {
  const { openings, lengthMs } = door;
  const durations = [...openings.fromMs]
    .map((fromMs, index) => cellAt(openings.toMs, index) - fromMs)
    .filter((ms, index) => ms > 0 && cellAt(openings.toMs, index) <= lengthMs);
  const brief = fitDurations(
    durations.filter((ms) => ms < leaveOpenAfterMs),
    keepLengths,
  );
  const leaveOpen = fitDurations(
    durations.filter((ms) => ms >= leaveOpenAfterMs),
    keepLengths,
  );
  const usual = brief ?? leaveOpen;
  if (usual === null) return null;
  const share = leaveOpen === null ? 0 : leaveOpen.count / durations.length;
  const habit =
    leaveOpen === null || brief === null
      ? null
      : { share: Math.round(share * 1e6) / 1e6, duration: leaveOpen.distribution };
  return {
    profile: { ...hoursOf(door), duration: usual.distribution, leaveOpen: habit },
    openings: openings.fromMs.length,
    lengthMs,
    unended: openings.fromMs.length - durations.length,
    brief,
    leaveOpen,
  };
}

type Hours = Pick<UsageProfile, 'openingsPerHour' | 'weekdayFactor' | 'weekendFactor'>;

/** The hour's rate on a weekday; the weekend's factor is the ratio of its openings a day to a weekday's. */
function hoursOf({ start, lengthMs, openings }: LoggedDoor): Hours {
  const counts = Array.from({ length: 24 }, () => 0);
  const days = { weekday: 0, weekend: 0 };
  for (const fromMs of openings.fromMs) {
    const { time, weekday } = localTime(start, fromMs);
    const hour = Number(time.slice(0, 2));
    counts[hour] = (counts[hour] ?? 0) + 1;
    days[kindOf(weekday)] += 1;
  }
  const logged = loggedHours(start, lengthMs);
  const total = (hours: readonly number[]): number => hours.reduce((sum, one) => sum + one, 0);
  const [weekdays, weekends] = [total(logged.weekday), total(logged.weekend)];
  const isKnown = weekdays > 0 && weekends > 0 && days.weekday > 0;
  const ratio = isKnown ? days.weekend / weekends / (days.weekday / weekdays) : 1;
  const weekendFactor = rounded(Math.min(100, ratio));
  return {
    openingsPerHour: counts.map((count, hour) => {
      const hours = (logged.weekday[hour] ?? 0) + weekendFactor * (logged.weekend[hour] ?? 0);
      return hours > 0 ? Math.min(mostOpeningsAnHour, rounded(count / hours)) : 0;
    }),
    weekdayFactor: 1,
    weekendFactor,
  };
}

/** How many of each hour of the day the log covers. */
function loggedHours(start: TimelineStart, lengthMs: number) {
  const logged = {
    weekday: Array.from({ length: 24 }, () => 0),
    weekend: Array.from({ length: 24 }, () => 0),
  };
  for (const day of localDays(start, lengthMs)) {
    for (let fromMs = day.fromMs; fromMs < day.toMs; fromMs += hourMs) {
      const toMs = Math.min(fromMs + hourMs, day.toMs, lengthMs);
      const coveredMs = toMs - Math.max(0, fromMs);
      if (coveredMs <= 0) continue;
      const hour = Number(localTime(start, Math.max(0, fromMs)).time.slice(0, 2));
      const hours = logged[kindOf(day.weekday)];
      hours[hour] = (hours[hour] ?? 0) + coveredMs / hourMs;
    }
  }
  return logged;
}

function kindOf(weekday: string): 'weekday' | 'weekend' {
  return weekday === 'Sat' || weekday === 'Sun' ? 'weekend' : 'weekday';
}

/** Four figures: more are not known. */
function rounded(value: number): number {
  return Number(value.toPrecision(4));
}
