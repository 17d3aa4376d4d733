// A log cut into its local days: what years as logged are put together from, and what is resampled to see how far
// another sample of the same door would have led to another profile.
import { cellAt } from '../../base/index.js';
import type { Spans } from '../../world/index.js';
import { localDays } from '../time/local-time.js';
import type { LoggedDay, TimelineStart } from '../types.js';
import { isWeekend } from './hour-spans.js';

interface DayPart extends LoggedDay {
  /** What of the day the log covers, in milliseconds since midnight. */
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * The days of a log, each with the openings that began in it. The first and the last are covered in part. Where one ends
 * before the time of day at which the other begins they make up one day; else each lends the other the hours that it
 * lacks.
 */
export function loggedDays(
  start: TimelineStart,
  lengthMs: number,
  openings: Spans,
): readonly LoggedDay[] {
  const parts = partsOf(start, lengthMs, openings);
  const first = parts[0];
  const last = parts.at(-1);
  if (first === undefined || last === undefined || first === last) return parts.map(dayOf);
  const between = parts.slice(1, -1);
  const early = last.openings.filter(({ atMs }) => atMs < first.fromMs);
  const begun = { weekend: first.weekend, openings: [...early, ...first.openings] };
  if (last.toMs <= first.fromMs) return [begun, ...between].map(dayOf);
  const late = first.openings.filter(({ atMs }) => atMs >= last.toMs);
  const ended = { weekend: last.weekend, openings: [...last.openings, ...late] };
  return [begun, ...between, ended].map(dayOf);
}

function dayOf({ weekend, openings }: LoggedDay): LoggedDay {
  return { weekend, openings };
}

function partsOf(start: TimelineStart, lengthMs: number, openings: Spans): DayPart[] {
  let index = 0;
  return localDays(start, lengthMs).map((day): DayPart => {
    const within: { atMs: number; forMs: number }[] = [];
    while (index < openings.fromMs.length && cellAt(openings.fromMs, index) < day.toMs) {
      const fromMs = cellAt(openings.fromMs, index);
      const toMs = Math.min(lengthMs, cellAt(openings.toMs, index));
      within.push({ atMs: fromMs - day.fromMs, forMs: Math.max(1, toMs - fromMs) });
      index += 1;
    }
    return {
      weekend: isWeekend(day.weekday),
      openings: within,
      fromMs: Math.max(0, -day.fromMs),
      toMs: Math.min(day.toMs, lengthMs) - day.fromMs,
    };
  });
}
