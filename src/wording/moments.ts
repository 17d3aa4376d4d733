// Instants of a timeline as a clock on the wall shows them.
import type { LocalTime } from '../scenarios/index.js';

/** Gives the wall clock at an instant of one timeline. */
export type Moments = (atMs: number) => LocalTime;

/** `Fri 2026-05-08 07:30:00`, with milliseconds where they are not zero. */
export function dayAndTime(at: LocalTime): string {
  return `${at.weekday} ${at.date} ${timeOfDay(at)}`;
}

/** The same without what is already known: only the time when the day is that of `known`. */
export function timeAfter(at: LocalTime, known: LocalTime): string {
  return at.date === known.date && at.offset === known.offset ? timeOfDay(at) : dayAndTime(at);
}

/** `2026-05-08T07:30:00.000+02:00` */
export function isoTime(at: LocalTime): string {
  return `${at.date}T${at.time}.${String(at.millisecond).padStart(3, '0')}${at.offset}`;
}

/** With its offset in the hour that the clock shows twice. */
function timeOfDay({ time, millisecond, offset, isRepeated }: LocalTime): string {
  const exact = millisecond === 0 ? time : `${time}.${String(millisecond).padStart(3, '0')}`;
  return isRepeated ? `${exact} ${offset}` : exact;
}
