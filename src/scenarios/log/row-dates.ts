// Times that lack their date, or its year: with the date of a column of its own, which may stand only where it changes, or with
// days or years that are counted from the first row on.

import { dayMs, hourMs } from '../../base/index.js';
import { bad, type Decoded, good } from '../text/problem.js';
import { dayNumber } from '../time/day-number.js';
import { writeLocal } from '../time/local-time.js';
import { isTimeOfDay, yearlessDate } from '../time/recognise.js';

/** The date in front of a time of day; anything else is left as it is. */
export interface RowDates {
  /** @param date the value in the column of the date; undefined: there is no such column. */
  whole(text: string, date: string | undefined, field: 0 | 1): string;
  /** How often a counted date went on to another day. */
  readonly newDays: number;
  /** How often a counted year went on to another; null: the dates have years, or are counted themselves. */
  readonly newYears: number | null;
  /** The date of the first row as it was given; null: none is counted. */
  readonly firstDate: string | null;
}

/** @param first the date of the first row, as if it were UTC; null: it is not given. */
export function rowDates(first: number | null, newestFirst: boolean): RowDates {
  let lastWritten = '';
  let newDays = 0;
  let dayMsOfRow = first ?? 0;
  const years =
    first === null ? null : countedYears(Number(writeLocal(first).slice(0, 4)), newestFirst);
  let rowMs = Number.NaN;
  let aboveMs = Number.NaN;
  const counted = (text: string, field: 0 | 1): string => {
    const ms = timeOfDayMs(text);
    if (field === 1) {
      // The end of an opening is on the next day if it is before its start.
      const endDayMs = ms < rowMs ? dayMsOfRow + dayMs : dayMsOfRow;
      if (!newestFirst) {
        if (endDayMs !== dayMsOfRow) newDays += 1;
        dayMsOfRow = endDayMs;
        aboveMs = ms;
      }
      return withDay(endDayMs, text);
    }
    const isNewDay = newestFirst ? ms > aboveMs + hourMs : ms < aboveMs - hourMs;
    if (isNewDay) {
      newDays += 1;
      dayMsOfRow += newestFirst ? -dayMs : dayMs;
    }
    rowMs = ms;
    aboveMs = ms;
    return withDay(dayMsOfRow, text);
  };
  return {
    whole(text, date, field) {
      if (date === undefined && first === null) return text;
      const written = text.trim();
      // Without a column of dates a number may also count seconds; one of two or three pairs of digits hardly does.
      const isSpaced = date !== undefined || /^(?:\d{4}|\d{6})$/u.test(written);
      const time = (isSpaced ? spacedOut(written) : null) ?? written;
      if (date === undefined && years !== null && !isTimeOfDay(time)) return years.whole(text);
      if (!isTimeOfDay(time)) return text;
      if (date === undefined) return counted(time, field);
      const day = date.trim();
      if (day !== '') lastWritten = day;
      return `${lastWritten} ${time}`;
    },
    get newDays() {
      return newDays;
    },
    get newYears() {
      return years?.newYears() ?? null;
    },
    firstDate: first === null ? null : writeLocal(first).slice(0, 10),
  };
}

/** Months that a row is before the one above it, from which on it is of another year and not merely out of order. */
const turnOfYear = 6;

const months = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ');

/** Years for dates without one. */
function countedYears(firstYear: number, newestFirst: boolean) {
  let year = firstYear;
  let above: number | null = null;
  let newYears = 0;
  return {
    whole(text: string): string {
      const written = yearlessDate(text);
      if (written === null) return text;
      const month = monthOf(written.month);
      const back = above === null ? 0 : newestFirst ? month - above : above - month;
      if (back > turnOfYear) {
        newYears += 1;
        year += newestFirst ? -1 : 1;
      }
      above = month;
      return `${String(year)} ${written.month.replace('.', '')} ${written.day} ${written.clock}`;
    },
    /** Null: no date lacked its year. */
    newYears: (): number | null => (above === null ? null : newYears),
  };
}

function monthOf(word: string): number {
  return months.indexOf(word.slice(0, 3).toLowerCase());
}

/** A time of day of digits alone, `0605` or `060500`, with colons; null: it is not one. Beside a date it is no count of seconds. */
function spacedOut(text: string): string | null {
  const [, hours, minutes = '', seconds] =
    /^([01]?\d|2[0-3])([0-5]\d)([0-5]\d)?$/u.exec(text) ?? [];
  if (hours === undefined) return null;
  return seconds === undefined ? `${hours}:${minutes}` : `${hours}:${minutes}:${seconds}`;
}

function withDay(ms: number, time: string): string {
  return `${writeLocal(ms).slice(0, 10)} ${time}`;
}

function timeOfDayMs(text: string): number {
  const [, hours = '0', minutes = '0', seconds = '0', half = ''] =
    /^(\d{1,2})[:.h](\d{2})(?:[:.](\d{2}))?.*?([ap])?\.?(?:m\.?)?$/iu.exec(text) ?? [];
  const hour = half === '' ? Number(hours) : (Number(hours) % 12) + (/p/iu.test(half) ? 12 : 0);
  return hour * hourMs + Number(minutes) * 60_000 + Number(seconds) * 1_000;
}

/** The date that `--date` gives, as if it were UTC. Error: `log-date-unreadable`. */
export function readFirstDate(text: string | undefined): Decoded<number | null> {
  if (text === undefined) return good(null);
  const written = text.trim();
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/u.exec(written) ?? [];
  const ms = dayNumber(Number(year), Number(month), Number(day)) * dayMs;
  if (!Number.isNaN(ms)) return good(ms);
  const expected = 'a date such as 2026-05-08';
  return bad('log-date-unreadable', 'is not a date', { found: text, expected });
}

/** A date in the name of a file, such as `door-2026-05-08.csv`; null: it has none. */
export function dateInName(file: string): string | null {
  const [, year, month, day] = /(20\d\d)[-_.]?([01]\d)[-_.]?([0-3]\d)(?!\d)/u.exec(file) ?? [];
  const date = `${String(year)}-${String(month)}-${String(day)}`;
  return year !== undefined && readFirstDate(date).ok ? date : null;
}
