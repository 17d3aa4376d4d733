// The time in a row. The usual forms are read digit by digit, without an object a row; tests compare them with
// the date library. Everything else, and every error, goes the long way.
import { dayMs, shellWord } from '../../base/index.js';
import { bad, type Decoded, good } from '../text/problem.js';
import { dayNumber } from '../time/day-number.js';
import { localInstantAt, readInstant } from '../time/instant.js';
import { likelyPattern } from '../time/likely-pattern.js';
import { hasShortYear } from '../time/recognise.js';
import { offsetText, type Zone } from '../time/zone.js';
import { type DoubtfulTime, openForms, type TimeFormat, type TimeForms } from './time-forms.js';

const zero = 48;

/** Epoch numbers from here on are milliseconds, below they are seconds (up to the year 5138). */
const leastEpochMs = 1e11;
const mostEpochMs = 1e14;

/** Spreadsheets count days from 1899-12-30: numbers of the years 1990 to 2100, which seconds of a morning in 1970 would be. */
const serialDays = { least: 32_874, most: 73_051 };
const serialEpoch = -25_569;

/** Years of a date that a number of eight digits may be: seconds or milliseconds would be of an hour in 1970. */
const compactYears = { least: 1990, most: 2099 };

/** Whether a text may be a date as spreadsheets count days. */
export function isSerial(text: string): boolean {
  if (!/^\d{5}(?:[.,]\d+)?$/u.test(text)) return false;
  const days = Number(text.replace(',', '.'));
  return days >= serialDays.least && days <= serialDays.most;
}

/** Reads the times of one log. */
export interface LogTimes {
  /** Milliseconds since the epoch, parts of a millisecond cut off; NaN when `explain` has something to say, or in doubt. */
  read(text: string): number;
  /** The same of a number that a JSON row gives as such. */
  readNumber(value: number): number;
  /** The same as `read`, with the reason when it fails. */
  explain(text: string): Decoded<number>;
  /** What a text is if only the rest of its column can settle whether the day or the month is first; null: no such doubt. */
  doubtOf(text: string): DoubtfulTime | null;
  /** Which is first, once a row has settled it. */
  readonly dayFirst: boolean | null;
  /** The instant of a local time, given as if it were UTC; NaN: it never happened, or twice. */
  instantOf(localMs: number): number;
  /** The same time of day on the next day. */
  nextDay(epochMs: number): number;
  /** The instants that a doubled or skipped local time could be, the earlier first; empty for anything else. */
  readings(text: string): readonly number[];
  readingsOf(localMs: number): readonly number[];
  /** The first offset that a row had of its own. */
  readonly firstOffset: string | null;
  /** Whether some row had neither an offset nor a zone from outside. */
  readonly tookUtc: boolean;
  /** Whether some row was read as a number since 1970. */
  readonly tookNumbers: boolean;
}

/**
 * @param zone for times without an offset; null: they are taken as UTC.
 * @param format of all times; null: it is recognised.
 */
export function logTimes(zone: Zone | null, format: TimeFormat | null = null): LogTimes {
  let firstOffset: string | null = null;
  let tookUtc = false;
  const numbers = openNumbers();
  const forms = openForms(format, zone !== null);
  const instantOf = (localMs: number): number => {
    if (zone !== null) return instantIn(zone, localMs);
    tookUtc = true;
    return localMs;
  };
  const placed = (ms: number, offsetMs: number): number => {
    if (Number.isNaN(ms)) return ms;
    if (Number.isNaN(offsetMs)) return instantOf(ms);
    firstOffset ??= offsetText(offsetMs);
    return ms;
  };
  const usual = (text: string): number => {
    if (text.charCodeAt(4) !== 45) {
      return numbers.isDate(text) ? Number.NaN : numbers.take(secondsOf(text), epochOf(text));
    }
    const parts = readDigits(text);
    if (Number.isNaN(parts)) return Number.NaN;
    if (cursor.end === text.length) return instantOf(parts);
    const offsetMs = offsetAt(text, cursor.end);
    if (Number.isNaN(offsetMs)) return Number.NaN;
    firstOffset ??= text.endsWith('Z') ? 'UTC' : offsetText(offsetMs);
    return parts - offsetMs;
  };
  const read = (text: string): number => {
    if (format === 'serial') {
      const ms = serialMs(text);
      return Number.isNaN(ms) ? ms : instantOf(ms);
    }
    const quick = format === null ? usual(text) : Number.NaN;
    return Number.isNaN(quick) ? placed(forms.read(text), forms.offsetMs) : quick;
  };
  const readingsOf = (localMs: number): readonly number[] => readingsIn(zone, localMs);
  const localOf = (text: string): number => localIn(text.trim(), format, forms);
  return {
    read: (text) => read(text.charCodeAt(0) <= 32 || text.endsWith(' ') ? text.trim() : text),
    readNumber: (value) =>
      format === null && !isCompact(value) && !numbers.isDate(String(value))
        ? numbers.take(value, epochNumber(value))
        : read(String(value)),
    explain(text) {
      const epochMs = read(text.trim());
      if (!Number.isNaN(epochMs)) return good(epochMs);
      return longWay(text, { zone, forms, format, localMs: localOf(text) });
    },
    doubtOf: (text) => (format === null ? forms.doubtOf(text.trim()) : null),
    get dayFirst() {
      return forms.dayFirst;
    },
    instantOf,
    nextDay: (epochMs) => nextDayIn(zone, epochMs),
    readings: (text) => readingsOf(localOf(text)),
    readingsOf,
    get firstOffset() {
      return firstOffset;
    },
    get tookUtc() {
      return tookUtc;
    },
    get tookNumbers() {
      return numbers.areTaken;
    },
  };
}

/** Numbers of one log: what they can be depends on those before them. */
function openNumbers() {
  let areTaken = false;
  let areDates = false;
  return {
    /** An instant that a number may be; NaN where it may be a day of a spreadsheet. */
    take(seconds: number, epochMs: number): number {
      const { least, most } = serialDays;
      if (!areTaken && seconds >= least && seconds <= most) return Number.NaN;
      if (!Number.isNaN(epochMs)) areTaken = true;
      return epochMs;
    },
    /** Whether eight digits are a date: where the first are, all are, and behind a number of another length none is. */
    isDate(text: string): boolean {
      if (areTaken || !isEightDigits(text)) return false;
      areDates ||= isCompactDate(text) || isTurnedDate(text);
      return areDates;
    },
    get areTaken() {
      return areTaken;
    },
  };
}

/** The instant of a local time in a zone; NaN: it is skipped, or occurs twice. */
function instantIn(zone: Zone, localMs: number): number {
  const offsetMs = zone.offsetMs(localMs - dayMs);
  const steady = zone.offsetMs(localMs + dayMs) === offsetMs;
  if (steady && zone.offsetMs(localMs - offsetMs) === offsetMs) return localMs - offsetMs;
  const [only, other] = instantsOf(zone, localMs);
  return other === undefined ? (only ?? Number.NaN) : Number.NaN;
}

function readingsIn(zone: Zone | null, localMs: number): readonly number[] {
  if (zone === null || Number.isNaN(localMs)) return [];
  const instants = instantsOf(zone, localMs);
  // A skipped time is taken with the offset from before the clocks went forward.
  return instants.length === 0 ? [localMs - zone.offsetMs(localMs - dayMs)] : instants;
}

function nextDayIn(zone: Zone | null, epochMs: number): number {
  if (zone === null) return epochMs + dayMs;
  const nextMs = instantIn(zone, epochMs + zone.offsetMs(epochMs) + dayMs);
  return Number.isNaN(nextMs) ? epochMs + dayMs : nextMs;
}

/** The local time of a text, as if it were UTC; NaN: it is none, or has an offset. */
function localIn(text: string, format: TimeFormat | null, forms: TimeForms): number {
  const digits = format === null ? readDigits(text) : Number.NaN;
  if (!Number.isNaN(digits)) return cursor.end === text.length ? digits : Number.NaN;
  if (format === 'serial') return serialMs(text);
  const local = forms.read(text);
  return Number.isNaN(forms.offsetMs) ? local : Number.NaN;
}

/** A number as it is written, for what it might be a number of; NaN: it is not one. */
function secondsOf(text: string): number {
  return text.length > 18 || !/^\d{5}(?:[.,]\d+)?$/u.test(text)
    ? Number.NaN
    : Number(text.replace(',', '.'));
}

/** Days since 1899-12-30 as a local time. */
function serialMs(text: string): number {
  if (!/^\d{1,6}(?:[.,]\d{1,20})?$/u.test(text)) return Number.NaN;
  return Math.round((Number(text.replace(',', '.')) + serialEpoch) * dayMs);
}

/** Every instant at which the zone's clocks show this time, ascending: none, one or two. */
function instantsOf(zone: Zone, localMs: number): readonly number[] {
  // Clocks change at most once in two days, so the offsets a day on either side are all that can hold.
  const before = zone.offsetMs(localMs - dayMs);
  const after = zone.offsetMs(localMs + dayMs);
  const offsets = before === after ? [before] : [before, after];
  return offsets
    .map((offset) => localMs - offset)
    .filter((epochMs) => epochMs + zone.offsetMs(epochMs) === localMs)
    .sort((a, b) => a - b);
}

/** Where `readDigits` stopped: a second result without an object a row. */
const cursor = { end: 0 };

function digits(text: string, from: number, count: number): number {
  let value = 0;
  for (let at = from; at < from + count; at += 1) {
    const digit = text.charCodeAt(at) - zero;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    value = value * 10 + digit;
  }
  return value;
}

/** `YYYY-MM-DD HH:MM`, perhaps `:SS` and a fraction, as if it were UTC; NaN when it is not that. */
function readDigits(text: string): number {
  const separator = text.charCodeAt(10);
  if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45 || text.charCodeAt(13) !== 58) {
    return Number.NaN;
  }
  if (separator !== 32 && separator !== 84 && separator !== 116) return Number.NaN;
  const day = dayNumber(digits(text, 0, 4), digits(text, 5, 2), digits(text, 8, 2));
  const hour = digits(text, 11, 2);
  const minute = digits(text, 14, 2);
  let second = 0;
  let millisecond = 0;
  let end = 16;
  if (text.charCodeAt(16) === 58) {
    second = digits(text, 17, 2);
    end = 19;
    const point = text.charCodeAt(19);
    if (point === 46 || point === 44) {
      end = 20;
      for (let scale = 100; end < 30; end += 1, scale /= 10) {
        const digit = text.charCodeAt(end) - zero;
        if (!(digit >= 0 && digit <= 9)) break;
        if (scale >= 1) millisecond += digit * scale;
      }
      if (end === 20) return Number.NaN;
    }
  }
  if (!(hour <= 23 && minute <= 59 && second <= 59)) return Number.NaN;
  cursor.end = end;
  return day * dayMs + hour * 3_600_000 + minute * 60_000 + second * 1_000 + millisecond;
}

/** An offset that ends the text, perhaps after a space, in milliseconds; NaN when it is none. */
function offsetAt(text: string, from: number): number {
  const at = text.charCodeAt(from) === 32 ? from + 1 : from;
  const sign = text.charCodeAt(at);
  const rest = text.length - at;
  if (rest === 1 && (sign === 90 || sign === 122)) return 0;
  if (sign !== 43 && sign !== 45) return Number.NaN;
  const colon = text.charCodeAt(at + 3) === 58 ? 1 : 0;
  if (rest !== 3 && rest !== 5 + colon) return Number.NaN;
  const hours = digits(text, at + 1, 2);
  const minutes = rest === 3 ? 0 : digits(text, at + 3 + colon, 2);
  if (!(hours <= 23 && minutes <= 59)) return Number.NaN;
  const size = (hours * 60 + minutes) * 60_000;
  return sign === 45 && size > 0 ? -size : size;
}

/** A decimal point or comma. */
function isPoint(code: number): boolean {
  return code === 46 || code === 44;
}

/** `20260508060000` and `202605080600` are a date and a time, and no instants of the years 2612 and 1976. */
function isCompact(number: number): boolean {
  const minutes = number >= 1e13 ? Math.floor(number / 100) : number;
  return minutes >= 197_001_010_000 && minutes < 210_000_000_000;
}

/** Eight digits, perhaps with a part of a second behind them. */
function isEightDigits(text: string): boolean {
  return (text.length === 8 || isPoint(text.charCodeAt(8))) && !Number.isNaN(digits(text, 0, 8));
}

/** `20260508` is a date. */
function isCompactDate(text: string): boolean {
  return isDay(digits(text, 0, 4), digits(text, 4, 2), digits(text, 6, 2));
}

/** `08052026`: the year comes last, and either the day or the month first. */
function isTurnedDate(text: string): boolean {
  const [one, other, year] = [digits(text, 0, 2), digits(text, 2, 2), digits(text, 4, 4)];
  return isDay(year, one, other) || isDay(year, other, one);
}

function isDay(year: number, month: number, day: number): boolean {
  const { least, most } = compactYears;
  return year >= least && year <= most && !Number.isNaN(dayNumber(year, month, day));
}

/** Seconds, milliseconds, microseconds or nanoseconds since 1970, perhaps with a fraction; NaN when it is not that. */
function epochOf(text: string): number {
  // Microseconds and nanoseconds, by their length: parts of a millisecond are cut off.
  if ((text.length === 16 || text.length === 19) && /^[1-9]\d+$/u.test(text)) {
    return digits(text, 0, 13);
  }
  const negative = text.charCodeAt(0) === 45;
  const start = negative ? 1 : 0;
  let end = start;
  while (end < text.length && end < start + 15 && !isPoint(text.charCodeAt(end))) end += 1;
  const whole = end === start ? Number.NaN : digits(text, start, end - start);
  if (!(whole < mostEpochMs) || isCompact(whole)) return Number.NaN;
  let thousandths = 0;
  if (end < text.length) {
    if (!isPoint(text.charCodeAt(end)) || end + 1 === text.length) return Number.NaN;
    for (let at = end + 1, scale = 100; at < text.length; at += 1, scale /= 10) {
      const digit = digits(text, at, 1);
      if (Number.isNaN(digit)) return Number.NaN;
      if (scale >= 1) thousandths += digit * scale;
    }
  }
  const size = whole >= leastEpochMs ? whole : whole * 1_000 + thousandths;
  return negative && size > 0 ? -size : size;
}

/** A number that a JSON row gives as such. */
export function epochNumber(value: number): number {
  if (value >= 1e15 && value < 1e16) return Math.floor(value / 1e3);
  if (value >= 1e18 && value < 1e19) return Math.floor(value / 1e6);
  if (!Number.isFinite(value) || Math.abs(value) >= mostEpochMs) return Number.NaN;
  // Rounded to the microsecond first: 1203934768.123 × 1000 falls just short of its millisecond.
  return Math.abs(value) >= leastEpochMs
    ? Math.floor(value)
    : Math.floor(Math.round(value * 1e6) / 1e3);
}

const expected =
  'a date and a time such as 2026-05-08 06:15:00 or 2026-05-08T06:15:00+02:00, or seconds, milliseconds, microseconds or nanoseconds since 1970';

interface LongWay {
  readonly zone: Zone | null;
  readonly forms: TimeForms;
  readonly format: TimeFormat | null;
  /** The local time, if that much could be read; else NaN. */
  readonly localMs: number;
}

function longWay(text: string, { zone, forms, format, localMs }: LongWay): Decoded<number> {
  const found = text;
  if (!Number.isNaN(localMs) && zone !== null) {
    const instant = localInstantAt(localMs, zone.name, found);
    return instant.ok ? good(instant.value.epochMs) : instant;
  }
  if (format === 'serial') {
    return bad('log-time-unreadable', 'is not a number of days', { found });
  }
  if (format !== null) {
    const pattern = `a time of the format ${format.text}`;
    return bad('log-time-unreadable', 'is not a time', { found, expected: pattern });
  }
  const problem = forms.problemOf(text.trim());
  if (problem !== null) return { ok: false, problem: { ...problem, found } };
  const instant = readInstant(text, zone?.name ?? 'UTC');
  if (instant.ok && !isCompact(Number(text))) return good(instant.value.epochMs);
  return bad('log-time-unreadable', 'is not a time', {
    found,
    expected,
    hint: hintFor(text.trim()),
    ...triesFor(text.trim()),
  });
}

function triesFor(text: string): { readonly tries?: readonly string[] } {
  if (isSerial(text)) return { tries: ['--time-format serial', '--time-format %s'] };
  if (isEightDigits(text)) {
    const seconds = text.length === 8 ? '%s' : '%s.%f';
    const patterns = isTurnedDate(text) ? ['%d%m%Y', '%m%d%Y', seconds] : [seconds];
    return { tries: patterns.map((pattern) => `--time-format ${pattern}`) };
  }
  const pattern = likelyPattern(text);
  return pattern === null ? {} : { tries: [`--time-format ${shellWord(pattern)}`] };
}

function hintFor(text: string): string {
  if (isSerial(text)) {
    return 'if it is a number of days, as in spreadsheets, add --time-format serial; if it is seconds since 1970, --time-format %s';
  }
  if (isEightDigits(text)) {
    return 'say whether it is a date, and in which order, or seconds since 1970';
  }
  if (/^\d{15,}$/u.test(text)) return 'write it in milliseconds, microseconds or nanoseconds';
  const short = hasShortYear(text)
    ? "'%d/%m/%y %H:%M:%S' or '%m/%d/%y %H:%M:%S'"
    : "'%d.%m.%Y %H:%M:%S'";
  return `describe the form with --time-format, as in --time-format ${short}`;
}
