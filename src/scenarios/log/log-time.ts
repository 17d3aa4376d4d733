// The time in a row. The usual forms are read digit by digit, without an object a row; tests compare them with
// the date library. Everything else, and every error, goes the long way.
import { bad, type Decoded, good } from '../text/problem.js';
import { readInstant } from '../time/instant.js';
import { offsetText, type Zone } from '../time/zone.js';

const zero = 48;
const dayMs = 86_400_000;

/** Epoch numbers from here on are milliseconds, below they are seconds (up to the year 5138). */
const leastEpochMs = 1e11;
const mostEpochMs = 1e14;

/** Reads the times of one log. */
export interface LogTimes {
  /** Milliseconds since the epoch, parts of a millisecond cut off; NaN when `explain` has something to say. */
  read(text: string): number;
  /** The same, with the reason when it fails. */
  explain(text: string): Decoded<number>;
  /** The instants that a doubled or skipped local time could be, the earlier first; empty for anything else. */
  readings(text: string): readonly number[];
  /** The first offset that a row had of its own. */
  readonly firstOffset: string | null;
  /** Whether some row had neither an offset nor a zone from outside. */
  readonly tookUtc: boolean;
}

/** @param zone for times without an offset; null: they are taken as UTC. */
export function logTimes(zone: Zone | null): LogTimes {
  let firstOffset: string | null = null;
  let tookUtc = false;
  const local = (localMs: number): number => {
    if (zone === null) {
      tookUtc = true;
      return localMs;
    }
    const offsetMs = zone.offsetMs(localMs - dayMs);
    const steady = zone.offsetMs(localMs + dayMs) === offsetMs;
    if (steady && zone.offsetMs(localMs - offsetMs) === offsetMs) return localMs - offsetMs;
    const [only, other] = instantsOf(zone, localMs);
    return other === undefined ? (only ?? Number.NaN) : Number.NaN;
  };
  const read = (text: string): number => {
    const code = text.charCodeAt(4);
    if (code !== 45) return epochOf(text);
    const parts = readDigits(text);
    if (Number.isNaN(parts)) return Number.NaN;
    if (cursor.end === text.length) return local(parts);
    const offsetMs = offsetAt(text, cursor.end);
    if (Number.isNaN(offsetMs)) return Number.NaN;
    firstOffset ??= text.endsWith('Z') ? 'UTC' : offsetText(offsetMs);
    return parts - offsetMs;
  };
  return {
    read: (text) => read(text.charCodeAt(0) <= 32 || text.endsWith(' ') ? text.trim() : text),
    explain(text) {
      const epochMs = read(text.trim());
      return Number.isNaN(epochMs) ? longWay(text, zone) : good(epochMs);
    },
    readings(text) {
      const localMs = readDigits(text.trim());
      if (zone === null || Number.isNaN(localMs) || cursor.end !== text.trim().length) return [];
      const instants = instantsOf(zone, localMs);
      // A skipped time is taken with the offset from before the clocks went forward.
      return instants.length === 0 ? [localMs - zone.offsetMs(localMs - dayMs)] : instants;
    },
    get firstOffset() {
      return firstOffset;
    },
    get tookUtc() {
      return tookUtc;
    },
  };
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

const monthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Days since 1970-01-01, or NaN for a date that is none. Years begin in March here, leap days come last. */
function dayNumber(year: number, month: number, day: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const longest = month === 2 && leap ? 29 : (monthDays[month - 1] ?? Number.NaN);
  if (!(day >= 1 && day <= longest) || Number.isNaN(year)) return Number.NaN;
  const marchYear = month <= 2 ? year - 1 : year;
  const inYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  const leaps =
    Math.floor(marchYear / 4) - Math.floor(marchYear / 100) + Math.floor(marchYear / 400);
  return marchYear * 365 + leaps + inYear - 719_468;
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

/** Seconds or milliseconds since 1970, perhaps with a fraction; NaN when it is not that. */
function epochOf(text: string): number {
  const negative = text.charCodeAt(0) === 45;
  const start = negative ? 1 : 0;
  let end = start;
  while (end < text.length && end < start + 15 && text.charCodeAt(end) !== 46) end += 1;
  const whole = end === start ? Number.NaN : digits(text, start, end - start);
  if (!(whole < mostEpochMs)) return Number.NaN;
  let thousandths = 0;
  if (end < text.length) {
    if (text.charCodeAt(end) !== 46 || end + 1 === text.length) return Number.NaN;
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
  if (!Number.isFinite(value) || Math.abs(value) >= mostEpochMs) return Number.NaN;
  // Rounded to the microsecond first: 1203934768.123 × 1000 falls just short of its millisecond.
  return Math.abs(value) >= leastEpochMs
    ? Math.floor(value)
    : Math.floor(Math.round(value * 1e6) / 1e3);
}

const expected = 'ISO 8601, YYYY-MM-DD HH:MM:SS, or seconds or milliseconds since 1970';

function longWay(text: string, zone: Zone | null): Decoded<number> {
  const instant = readInstant(text, zone?.name ?? 'UTC');
  if (instant.ok) return good(instant.value.epochMs);
  const { problem } = instant;
  if (problem.code === 'local-time-skipped' || problem.code === 'local-time-twice') return instant;
  const hint = /^\d{1,2}:\d{2}/.test(text.trim())
    ? 'put the date and the time into one column'
    : /^\d{15,}$/.test(text.trim())
      ? 'write it in milliseconds'
      : undefined;
  return bad('log-time-unreadable', 'is not a time', { found: text, expected, hint });
}
