// The forms of the times of one log, as its rows show them. Where the year is last behind slashes or dashes, only a number
// over 12 shows whether the day or the month is first: until some row has one, such times are in doubt.
import { mostTimeForms } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import { recognisedPatterns } from '../time/recognise.js';
import { compileTimePattern, type TimePattern } from '../time/time-pattern.js';

/** What `--time-format` names: a pattern of strptime, or days as spreadsheets count them. */
export type TimeFormat = TimePattern | 'serial';

/** Both readings of a local time, as if it were UTC. */
export interface DoubtfulTime {
  readonly dayFirstMs: number;
  readonly monthFirstMs: number;
  /** Whether it has no offset of its own. */
  readonly isLocal: boolean;
  /** The patterns of both. */
  readonly dayFirst: string;
  readonly monthFirst: string;
}

export interface TimeForms {
  /** Milliseconds of the local time as if it were UTC, or of the instant where `offsetMs` is a number; NaN: no known form, or in doubt. */
  read(text: string): number;
  readonly offsetMs: number;
  doubtOf(text: string): DoubtfulTime | null;
  readonly dayFirst: boolean | null;
  /** What is wrong with a text that a form nearly fits; null: nothing is known. */
  problemOf(text: string): Problem | null;
}

/** The two orders of a day and a month. */
interface Pair {
  readonly dayFirst: TimePattern;
  readonly monthFirst: TimePattern;
}

/**
 * @param format the one form; null: forms are recognised as they come.
 * @param hasZone whether the zone of local times is known: the abbreviation of a zone does not give it.
 */
export function openForms(format: TimeFormat | null, hasZone: boolean): TimeForms {
  const only = format === null || format === 'serial' ? null : format;
  const known: TimePattern[] = only === null ? [] : [only];
  const pairs: Pair[] = [];
  let dayFirst: boolean | null = null;
  let settledBy = '';
  let offsetMs = Number.NaN;
  const ordered = (text: string, { dayFirst: day, monthFirst: month }: Pair): number => {
    const byDay = day.read(text);
    const byMonth = month.read(text);
    if (dayFirst === null && Number.isNaN(byDay) !== Number.isNaN(byMonth)) {
      dayFirst = Number.isNaN(byMonth);
      settledBy = text;
    }
    if (dayFirst === null && byDay !== byMonth) return Number.NaN;
    ({ offsetMs } = dayFirst === false ? month : day);
    return dayFirst === false ? byMonth : byDay;
  };
  const learn = (text: string): boolean => {
    if (known.length + pairs.length >= mostTimeForms) return false;
    const [first, second] = recognisedPatterns(text).map(compiled);
    if (first === undefined || (needsZone(first.text) && !hasZone)) return false;
    if (second === undefined) known.push(first);
    else pairs.push({ dayFirst: first, monthFirst: second });
    return true;
  };
  const readKnown = (text: string): number => {
    for (const pattern of known) {
      const ms = pattern.read(text);
      if (Number.isNaN(ms)) continue;
      ({ offsetMs } = pattern);
      return ms;
    }
    for (const pair of pairs) {
      const orderedMs = ordered(text, pair);
      if (!Number.isNaN(orderedMs)) return orderedMs;
    }
    return Number.NaN;
  };
  const doubtOf = (text: string): DoubtfulTime | null =>
    dayFirst === null ? doubtAmong(pairs, text) : null;
  return {
    read(text) {
      offsetMs = Number.NaN;
      const ms = readKnown(text);
      if (!Number.isNaN(ms) || format !== null || doubtOf(text) !== null) return ms;
      return learn(text) ? readKnown(text) : Number.NaN;
    },
    get offsetMs() {
      return offsetMs;
    },
    doubtOf,
    get dayFirst() {
      return dayFirst;
    },
    problemOf: (text) => problemOf(text, { dayFirst, settledBy, hasZone }),
  };
}

function doubtAmong(pairs: readonly Pair[], text: string): DoubtfulTime | null {
  for (const { dayFirst: day, monthFirst: month } of pairs) {
    const dayFirstMs = day.read(text);
    const monthFirstMs = month.read(text);
    if (Number.isNaN(dayFirstMs) || Number.isNaN(monthFirstMs)) continue;
    const isLocal = Number.isNaN(day.offsetMs);
    return { dayFirstMs, monthFirstMs, isLocal, dayFirst: day.text, monthFirst: month.text };
  }
  return null;
}

function problemOf(
  text: string,
  by: { readonly dayFirst: boolean | null; readonly settledBy: string; readonly hasZone: boolean },
): Problem | null {
  const { dayFirst, settledBy, hasZone } = by;
  const [day, month] = recognisedPatterns(text);
  if (day === undefined) return null;
  if (needsZone(day) && !hasZone) return abbreviated;
  if (month === undefined || dayFirst === null) return notInCalendar(text);
  const other = compiled(dayFirst ? month : day);
  if (Number.isNaN(other.read(text))) return notInCalendar(text);
  const [now, before] = dayFirst ? ['month', 'day'] : ['day', 'month'];
  return {
    code: 'time-order-changes',
    says: `has the ${now} first, but ${settledBy} above has the ${before} first`,
    hint: 'the rows come from different sources: write all of them in one form',
  };
}

function needsZone(pattern: string): boolean {
  return pattern.includes('%Z');
}

const abbreviated: Problem = {
  code: 'zone-abbreviated',
  says: 'has the abbreviation of a time zone, which several zones share',
  hint: 'name the zone, as in --zone Europe/Oslo',
};

function compiled(pattern: string): TimePattern {
  const made = compileTimePattern(pattern);
  // A pattern of our own is one that compiles: tests try each.
  if (!made.ok) throw new Error(made.problem.says);
  return made.value;
}

/** Times that are written on purpose, and are not times of a day here. */
function calendarHint(text: string): string {
  if (/(?:^|[\sT])24[:.]?00(?:[:.]?00)?(?![:.\d])/iu.test(text)) {
    return 'midnight is 00:00 of the next day: write that';
  }
  if (/:60(?:[.,]\d+)?(?![:\d])/u.test(text)) {
    return 'leap seconds are not counted: write second 59';
  }
  if (/(?:^|[\sT])(?:0?0|1[3-9]|2\d):\d\d\S*\s?[ap]\.?m/iu.test(text)) {
    return 'with AM or PM the hours are 1 to 12: leave out AM and PM, or correct the hour';
  }
  if (/\d\s?[+-](?:2[4-9]|[3-9]\d)(?::?\d\d)?$/u.test(text)) {
    return 'an offset has at most 23 hours: correct it';
  }
  return 'correct it';
}

function notInCalendar(text: string): Problem {
  const dots = /^\s*\d{1,2}\.\d{1,2}\.\d{4}/u.test(text);
  return {
    code: 'log-time-unreadable',
    says: 'is not a date and time in the calendar',
    expected:
      'a month from 1 to 12, a day that this month has in this year, and a time from 00:00:00 to 23:59:59',
    hint: calendarHint(text),
    ...(dots
      ? {
          expected: 'day.month.year',
          hint: "if the month is first, add --time-format '%m.%d.%Y %H:%M:%S'",
        }
      : {}),
  };
}
