// The hours that a log covers, as stretches of a week's 48 kinds of hour: 24 of a weekday, then 24 of a weekend day.
import { hourMs } from '../../base/index.js';
import { localDays, localTime } from '../time/local-time.js';
import type { TimelineStart } from '../types.js';

/** Kinds of hour: the hour of the day, and 24 more at weekends. */
export const hourKinds = 48;

/** Stretches of a log, one after the other without a gap: the first begins at 0, each ends where the next begins. */
export interface HourSpans {
  readonly toMs: Float64Array;
  readonly kind: Uint8Array;
}

/** Cuts `[0, lengthMs)` at each full hour of the local day. */
export function hourSpans(start: TimelineStart, lengthMs: number): HourSpans {
  const toMs: number[] = [];
  const kind: number[] = [];
  for (const day of localDays(start, lengthMs)) {
    const weekend = isWeekend(day.weekday) ? 24 : 0;
    for (let fromMs = day.fromMs; fromMs < day.toMs; fromMs += hourMs) {
      const endMs = Math.min(fromMs + hourMs, day.toMs, lengthMs);
      if (endMs <= Math.max(0, fromMs)) continue;
      // With daylight saving the hour of the clock is not the number of hours since midnight.
      kind.push(weekend + Number(localTime(start, Math.max(0, fromMs)).time.slice(0, 2)));
      toMs.push(endMs);
    }
  }
  return { toMs: Float64Array.from(toMs), kind: Uint8Array.from(kind) };
}

export function isWeekend(weekday: string): boolean {
  return weekday === 'Sat' || weekday === 'Sun';
}
