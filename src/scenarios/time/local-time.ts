// What a clock on the wall shows at an instant of a timeline, and when its days begin.
import { Temporal } from 'temporal-polyfill';
import { dayMs, invariant, weekdays } from '../../base/index.js';
import type { LocalTime, TimelineStart } from '../types.js';
import { offsetText, readZone, type Zone } from './zone.js';

/** Dates by their day number: each is worked out once. */
const dates = new Map<number, Pick<LocalTime, 'date' | 'weekday'>>();
const mostDates = 10_000;

/** The zone of a timeline. @throws InvariantError when there is no such zone. */
export function zoneOf(start: TimelineStart): Zone {
  const zone = readZone(start.timeZone);
  invariant(zone.ok, 'a timeline names a known zone', { timeZone: start.timeZone });
  return zone.value;
}

/**
 * Date and time of day at an instant. Cheap: a zone is asked once a stretch, a date is worked out once.
 * @param atMs milliseconds from the timeline's start.
 */
export function localTime(start: TimelineStart, atMs: number): LocalTime {
  const epochMs = start.epochMs + atMs;
  const zone = zoneOf(start);
  const offsetMs = zone.offsetMs(epochMs);
  const day = Math.floor((epochMs + offsetMs) / dayMs);
  const inDay = epochMs + offsetMs - day * dayMs;
  const { date, weekday } = dateOf(day);
  return {
    date,
    weekday,
    time: clockText(Math.floor(inDay / 1_000)),
    millisecond: Math.floor(inDay) % 1_000,
    offset: offsetText(offsetMs),
    isRepeated: occursAlso(zone, epochMs, offsetMs),
  };
}

/** Clocks go back by at most this. */
const longestStepMs = 3 * 3_600_000;

/** Whether the local time of an instant also occurs at another instant nearby. */
function occursAlso(zone: Zone, epochMs: number, offsetMs: number): boolean {
  return [-longestStepMs, longestStepMs].some((byMs) => {
    const otherMs = zone.offsetMs(epochMs + byMs);
    return otherMs !== offsetMs && zone.offsetMs(epochMs + offsetMs - otherMs) === otherMs;
  });
}

const twoDigits = Array.from({ length: 60 }, (_, value) => String(value).padStart(2, '0'));

function clockText(seconds: number): string {
  const hours = twoDigits[Math.floor(seconds / 3_600)] ?? '';
  const minutes = twoDigits[Math.floor(seconds / 60) % 60] ?? '';
  return `${hours}:${minutes}:${twoDigits[seconds % 60] ?? ''}`;
}

/** @param day days since 1970-01-01. */
function dateOf(day: number): Pick<LocalTime, 'date' | 'weekday'> {
  const found = dates.get(day);
  if (found !== undefined) return found;
  const date = new Temporal.PlainDate(1970, 1, 1).add({ days: day });
  const made = { date: date.toString(), weekday: weekdays[date.dayOfWeek - 1] ?? '' };
  if (dates.size >= mostDates) dates.clear();
  dates.set(day, made);
  return made;
}

/** A local time, given in milliseconds as if it were UTC: `2026-05-08 07:30:00`. */
export function writeLocal(localMs: number): string {
  const day = Math.floor(localMs / dayMs);
  return `${dateOf(day).date} ${clockText(Math.floor((localMs - day * dayMs) / 1_000))}`;
}

/** A local day: when it begins and ends, in milliseconds from the timeline's start. */
export interface LocalDay {
  readonly fromMs: number;
  readonly toMs: number;
  readonly weekday: string;
}

/**
 * Each local midnight within `[0, lengthMs)`, in milliseconds from the timeline's start. Where daylight saving skips
 * midnight, the first instant of the day.
 */
export function localMidnights(start: TimelineStart, lengthMs: number): readonly number[] {
  return localDays(start, lengthMs)
    .map(({ fromMs }) => fromMs)
    .filter((fromMs) => fromMs >= 0 && fromMs < lengthMs);
}

/** The local days that a timeline touches, whole: the first may begin before it. */
export function localDays(start: TimelineStart, lengthMs: number): readonly LocalDay[] {
  const zone = zoneOf(start);
  const { epochMs } = start;
  const first = Math.floor((epochMs + zone.offsetMs(epochMs)) / dayMs);
  const days: LocalDay[] = [];
  let fromMs = startOfDay(zone, first) - epochMs;
  for (let day = first; fromMs < lengthMs; day += 1) {
    const toMs = startOfDay(zone, day + 1) - epochMs;
    // A zone that moved across the date line skipped a day.
    if (toMs > fromMs) days.push({ fromMs, toMs, weekday: dateOf(day).weekday });
    fromMs = toMs;
  }
  return days;
}

/** The first instant of a local day, in milliseconds since the epoch. */
function startOfDay(zone: Zone, day: number): number {
  const midnight = day * dayMs;
  // Offsets a day before and after include every offset that midnight can have.
  const before = zone.offsetMs(midnight - dayMs);
  const after = zone.offsetMs(midnight + dayMs);
  const early = midnight - Math.max(before, after);
  if (before === after && zone.offsetMs(early) === before) return early;
  const date = new Temporal.PlainDate(1970, 1, 1).add({ days: day });
  return date.toZonedDateTime(zone.name).epochMilliseconds;
}
