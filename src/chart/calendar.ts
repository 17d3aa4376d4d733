// People's days along a timeline. Within a day the wall clock runs with true time, but for the instants at which
// the clocks are changed: a day is therefore one piece, or two with a jump (or a repeated hour) between them.
import { hourMs, weekdays } from '../base/index.js';
import {
  type LocalTime,
  localMidnights,
  localTime,
  type TimelineStart,
} from '../scenarios/index.js';

/** A stretch of a day in which the wall clock runs steadily: it shows `atMs + shiftMs` since midnight. */
export interface DayPiece {
  readonly fromMs: number;
  readonly toMs: number;
  readonly shiftMs: number;
  readonly offset: string;
}

/** A local day, as far as the timeline covers it. */
export interface LocalDay {
  readonly fromMs: number;
  readonly toMs: number;
  readonly year: number;
  /** 1 to 12 */
  readonly month: number;
  readonly dayOfMonth: number;
  /** 0 for Monday, 6 for Sunday */
  readonly weekday: number;
  /** One, or two where the clocks are changed. Never empty. */
  readonly pieces: readonly DayPiece[];
}

export interface Calendar {
  readonly days: readonly LocalDay[];
  /** The zone with its offsets, as `Europe/Berlin, UTC+02:00`. */
  readonly zoneText: string;
}

export const dayMs = 24 * hourMs;
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** The local days of a timeline `[0, lengthMs)`. */
export function calendarOf(start: TimelineStart, lengthMs: number): Calendar {
  const inside = localMidnights(start, lengthMs).filter((ms) => ms > 0 && ms < lengthMs);
  const edges = [0, ...inside, Math.max(lengthMs, 1)];
  const days = edges.slice(1).map((toMs, index): LocalDay => {
    const fromMs = edges[index] ?? 0;
    const [year = 0, month = 1, dayOfMonth = 1] = localTime(start, fromMs)
      .date.split('-')
      .map(Number);
    return {
      fromMs,
      toMs,
      year,
      month,
      dayOfMonth,
      weekday: weekdayOf(year, month, dayOfMonth),
      pieces: piecesOf(fromMs, toMs, (atMs) => localTime(start, atMs)),
    };
  });
  return { days, zoneText: zoneTextOf(start, days) };
}

/** 0 for Monday. Sakamoto's rule for the Gregorian calendar. */
function weekdayOf(year: number, month: number, dayOfMonth: number): number {
  const monthShift = [0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4][month - 1] ?? 0;
  const y = month < 3 ? year - 1 : year;
  const sundayBased =
    y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + monthShift + dayOfMonth;
  return (((sundayBased - 1) % 7) + 7) % 7;
}

function shiftAt(local: LocalTime, atMs: number): number {
  const [hours = 0, minutes = 0, seconds = 0] = local.time.split(':').map(Number);
  return hours * hourMs + minutes * 60_000 + seconds * 1_000 + local.millisecond - atMs;
}

function piecesOf(fromMs: number, toMs: number, local: (atMs: number) => LocalTime): DayPiece[] {
  const first = local(fromMs);
  const last = local(toMs - 1);
  const firstShift = shiftAt(first, fromMs);
  const lastShift = shiftAt(last, toMs - 1);
  if (firstShift === lastShift) {
    return [{ fromMs, toMs, shiftMs: firstShift, offset: first.offset }];
  }
  // The clocks are changed once in such a day: halve the stretch that holds the change until it is an instant.
  let before = fromMs;
  let after = toMs - 1;
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (shiftAt(local(middle), middle) === firstShift) before = middle;
    else after = middle;
  }
  return [
    { fromMs, toMs: after, shiftMs: firstShift, offset: first.offset },
    { fromMs: after, toMs, shiftMs: lastShift, offset: last.offset },
  ];
}

function zoneTextOf({ timeZone }: TimelineStart, days: readonly LocalDay[]): string {
  const offsets = new Set(days.flatMap((day) => day.pieces.map((piece) => piece.offset)));
  const spoken = [...offsets].map((offset) => `UTC${offset.replace('-', '−')}`);
  if (timeZone === 'UTC') return timeZone;
  if (offsets.has(timeZone)) return spoken.join(' and ');
  return `${timeZone}, ${spoken.join(' and ')}`;
}

/** The day that holds an instant; the last one for the end of the timeline. */
export function dayAt({ days }: Calendar, atMs: number): LocalDay {
  let low = 0;
  let high = days.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((days[middle]?.fromMs ?? 0) <= atMs) low = middle;
    else high = middle - 1;
  }
  return days[low] ?? { ...noDay };
}

const noDay: LocalDay = {
  fromMs: 0,
  toMs: 1,
  year: 1970,
  month: 1,
  dayOfMonth: 1,
  weekday: 3,
  pieces: [{ fromMs: 0, toMs: 1, shiftMs: 0, offset: '+00:00' }],
};

/** What the wall clock shows, in milliseconds since midnight, and in which piece of the day. */
export function wallAt(
  calendar: Calendar,
  atMs: number,
): { readonly day: LocalDay; readonly piece: DayPiece; readonly wallMs: number } {
  const day = dayAt(calendar, atMs);
  const piece = day.pieces.findLast(({ fromMs }) => fromMs <= atMs) ?? day.pieces[0];
  const found = piece ?? { fromMs: day.fromMs, toMs: day.toMs, shiftMs: 0, offset: '' };
  return { day, piece: found, wallMs: atMs + found.shiftMs };
}

const two = (value: number): string => String(value).padStart(2, '0');

/** `07:30`, `07:30:05` or `07:30:05.250`: no finer than asked for. Midnight at a day's end is 24:00. */
export function clockText(wallMs: number, grain: 'minute' | 'second' | 'millisecond'): string {
  const minutes = Math.floor(wallMs / 60_000);
  const hm = `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  if (grain === 'minute') return hm;
  const seconds = Math.floor(wallMs / 1_000) % 60;
  if (grain === 'second') return `${hm}:${two(seconds)}`;
  return `${hm}:${two(seconds)}.${String(wallMs % 1_000).padStart(3, '0')}`;
}

export function weekdayText({ weekday }: Pick<LocalDay, 'weekday'>): string {
  return weekdays[weekday] ?? '';
}

export function monthText({ month }: Pick<LocalDay, 'month'>): string {
  return months[month - 1] ?? '';
}

/** `Fri 8 May 2026` */
export function dateText(day: LocalDay): string {
  return `${weekdayText(day)} ${String(day.dayOfMonth)} ${monthText(day)} ${String(day.year)}`;
}

/** `Fri 8 May 07:30:05`, with the offset where a clock change could make it doubtful. */
export function stampText(
  calendar: Calendar,
  atMs: number,
  grain: 'second' | 'millisecond' = 'second',
): string {
  const { day, piece, wallMs } = wallAt(calendar, atMs);
  const doubt = day.pieces.length > 1 ? ` (UTC${piece.offset.replace('-', '−')})` : '';
  const date = `${weekdayText(day)} ${String(day.dayOfMonth)} ${monthText(day)}`;
  return `${date} ${clockText(wallMs, grain)}${doubt}`;
}
