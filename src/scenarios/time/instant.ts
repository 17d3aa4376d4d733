// Instants: with an offset or a zone of their own, or as local time in a given zone. A local time that does not
// exist, or exists twice, is refused rather than guessed.
import { Temporal } from 'temporal-polyfill';
import type { Result, SourceRef } from '../../base/index.js';
import { bad, type Decoded, good, resultOf } from '../text/problem.js';
import { dayNumber } from './day-number.js';
import { offsetText, readZone } from './zone.js';

const expected = 'an instant such as 2026-05-08T06:00:00+02:00 or 2026-05-08 06:00';

/** Date, time, offset, zone in brackets. Without a time there is no offset: `2026-05-08-06:15` is most likely a time. */
const instantText =
  /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}:\d{2}(?::[0-5]\d(?:[.,]\d{1,9})?)?) ?(Z|[+-]\d{2}(?::?\d{2})?)?)?(?:\[([^\]]+)\])?$/i;

/** An instant, and the zone that came with it: its name, its offset, or the one given. */
export interface ZonedInstant {
  readonly epochMs: number;
  readonly timeZone: string;
}

/**
 * Reads an instant: ISO 8601 with an offset, `Z` or a zone in brackets; local date and time (or a date: its first
 * instant) in `zone`; or seconds or milliseconds since 1970.
 * @param zone an IANA zone or an offset, for text without; null: there is none.
 * @returns milliseconds since the epoch. Errors: `instant-unreadable`, `instant-without-zone`,
 * `instant-offset-mismatch`, `instant-not-whole-ms`, `local-time-skipped`, `local-time-twice`, `unknown-zone`.
 */
export function parseInstant(text: string, zone: string | null, source: SourceRef): Result<number> {
  const decoded = readInstant(text, zone);
  return resultOf(decoded.ok ? good(decoded.value.epochMs) : decoded, 'this', source);
}

/** The same without a place, and with the zone it was read in. */
export function readInstant(text: string, zone: string | null): Decoded<ZonedInstant> {
  const found = text;
  const written = text.trim();
  if (isCompactDate(written)) {
    return bad('instant-unreadable', 'is not an instant', {
      found,
      expected,
      hint: `write it as ${dashed(written)}`,
    });
  }
  if (/^\d{9,14}$/.test(written)) {
    const number = Number(written);
    return good({ epochMs: number < 1e11 ? number * 1_000 : number, timeZone: zone ?? 'UTC' });
  }
  const [match, date = '', time = '00:00', offset, bracket] = instantText.exec(written) ?? [];
  if (match === undefined) {
    return bad('instant-unreadable', 'is not an instant', { found, expected });
  }
  const [, fraction = ''] = time.split(/[.,]/);
  if (/[1-9]/.test(fraction.slice(3))) {
    return bad('instant-not-whole-ms', 'has more than three decimals of a second', { found });
  }
  let local: Temporal.PlainDateTime;
  try {
    local = Temporal.PlainDateTime.from(`${date}T${time.replace(',', '.')}`);
  } catch {
    return bad('instant-unreadable', 'is not a date and time in the calendar', { found, expected });
  }
  const named = bracket ?? (offset === undefined ? zone : null);
  if (offset !== undefined) return withOffset(found, { local, offset, zone: named });
  if (named === null) {
    const hint =
      'add an offset such as +02:00 or Z to it, or name its zone (zone: in a scenario, --zone for a log)';
    return bad('instant-without-zone', 'has no zone', { found, hint });
  }
  return localInstant(local, named, found);
}

/** `20260508`, `202605081230` or `20260508T123000` of these centuries. */
function isCompactDate(text: string): boolean {
  const [, date = '', clock = ''] = /^(\d{8})T?(\d{4}|\d{6})?$/iu.exec(text) ?? [];
  const [hour, minute] = [Number(clock.slice(0, 2)), Number(clock.slice(2, 4))];
  return isDayIn(date, 1970, 2099) && hour < 24 && minute < 60;
}

function isDayIn(date: string, least: number, most: number): boolean {
  const [year, month, day] = [date.slice(0, 4), date.slice(4, 6), date.slice(6)].map(Number);
  if (year === undefined || month === undefined || day === undefined) return false;
  return year >= least && year <= most && !Number.isNaN(dayNumber(year, month, day));
}

function dashed(text: string): string {
  const [year, month, day, ...clock] = text.replace(/t/iu, '').match(/^\d{4}|\d{2}/gu) ?? [];
  const date = `${year ?? ''}-${month ?? ''}-${day ?? ''}`;
  return clock.length === 0 ? date : `"${date} ${clock.join(':')}"`;
}

function withOffset(
  found: string,
  given: {
    readonly local: Temporal.PlainDateTime;
    readonly offset: string;
    readonly zone: string | null;
  },
): Decoded<ZonedInstant> {
  const fixed = readZone(given.offset);
  if (!fixed.ok) return fixed;
  const utcMs = given.local.toZonedDateTime('UTC').epochMilliseconds;
  const epochMs = utcMs - fixed.value.offsetMs(0);
  const isUtc = /^z$/i.test(given.offset);
  if (given.zone === null) {
    return good({ epochMs, timeZone: isUtc ? 'UTC' : fixed.value.name });
  }
  const zone = readZone(given.zone);
  if (!zone.ok) return zone;
  const actual = zone.value.offsetMs(epochMs);
  if (!isUtc && actual !== fixed.value.offsetMs(0)) {
    const hint = `${zone.value.name} has the offset ${offsetText(actual)} at that time`;
    return bad('instant-offset-mismatch', 'has an offset that its zone does not have then', {
      found,
      hint,
    });
  }
  return good({ epochMs, timeZone: zone.value.name });
}

/** The same of a local time given in milliseconds, as if it were UTC. */
export function localInstantAt(
  localMs: number,
  zoneName: string,
  found: string,
): Decoded<ZonedInstant> {
  const local = Temporal.Instant.fromEpochMilliseconds(localMs).toZonedDateTimeISO('UTC');
  return localInstant(local.toPlainDateTime(), zoneName, found);
}

/** A local time in a zone. Errors: `local-time-skipped`, `local-time-twice`, `unknown-zone`. */
export function localInstant(
  local: Temporal.PlainDateTime,
  zoneName: string,
  found: string,
): Decoded<ZonedInstant> {
  const zone = readZone(zoneName);
  if (!zone.ok) return zone;
  const timeZone = zone.value.name;
  const at = (disambiguation: 'earlier' | 'later'): Temporal.ZonedDateTime =>
    local.toZonedDateTime(timeZone, { disambiguation });
  const earlier = at('earlier');
  const later = at('later');
  if (earlier.epochMilliseconds === later.epochMilliseconds) {
    return good({ epochMs: earlier.epochMilliseconds, timeZone });
  }
  if (!earlier.toPlainDateTime().equals(local)) {
    const hint = `the clocks go forward from ${earlier.offset} to ${later.offset} and skip it; if the times are in UTC, say so (zone: UTC in a scenario, --zone UTC for a log)`;
    return bad('local-time-skipped', `is a time that does not exist in ${timeZone}`, {
      found,
      hint,
    });
  }
  const hint = `the clocks go back then: add ${earlier.offset} for the first time or ${later.offset} for the second`;
  return bad('local-time-twice', `is a time that exists twice in ${timeZone}`, { found, hint });
}
