// Durations as people write them: a number and a unit, largest unit first, or ISO 8601.

import { Temporal } from 'temporal-polyfill';
import type { Result, SourceRef } from '../../base/index.js';
import { longestDurationMs, mostDigits, mostQuantityCharacters } from '../../model/index.js';
import { bad, type Decoded, good, resultOf } from '../text/problem.js';
import { timesWhole } from './decimal.js';

const unitNames: readonly (readonly [ms: number, names: readonly string[]])[] = [
  [604_800_000, ['w', 'week', 'weeks']],
  [86_400_000, ['d', 'day', 'days']],
  [3_600_000, ['h', 'hour', 'hours']],
  [60_000, ['m', 'min', 'minute', 'minutes']],
  [1_000, ['s', 'sec', 'second', 'seconds']],
  [1, ['ms']],
];
const unitMs = new Map(unitNames.flatMap(([ms, names]) => names.map((name) => [name, ms])));

const expected = 'a duration such as 400ms, 90s, 3m, 1h30m or 2d';

/** The pattern of the schemas: enough for an editor to mark a bare number. */
const unitsPattern =
  '(\\d+(\\.\\d+)?\\s*(ms|s|sec|seconds?|m|min|minutes?|h|hours?|d|days?|w|weeks?)\\s*)+';
export const durationPattern = `^\\s*${unitsPattern}$|^\\s*P`;
/** The same without its ends. */
export const durationInner = `${unitsPattern}|P.*`;

/**
 * Reads a duration: `400ms`, `90s`, `3m`, `1h30m`, `2d`, `2w`, `1.5s`, or ISO 8601 such as `PT3M`. A day is 24 hours, a week 7 days.
 * @returns whole milliseconds, 0 or more. Errors: `duration-without-unit`, `duration-negative`,
 * `duration-unknown-unit`, `duration-order`, `duration-not-whole-ms`, `duration-too-long`, `duration-unreadable`.
 */
export function parseDuration(text: string, source: SourceRef): Result<number> {
  return resultOf(readDuration(text), 'this', source);
}

/** The same without a place. */
export function readDuration(text: string): Decoded<number> {
  const written = text.trim();
  const found = text;
  if (written.length > mostQuantityCharacters) {
    return bad('duration-unreadable', 'is not a duration', { found, expected });
  }
  if (/^[+-]?\d+([.,]\d*)?$/.test(written)) {
    const number = written.replace(/^\+/, '').replace(',', '.');
    const hint = number.startsWith('-')
      ? undefined
      : `write ${number}s for seconds or ${number}m for minutes`;
    return bad('duration-without-unit', 'has no unit', { found, expected, hint });
  }
  if (/^[-−]/.test(written)) {
    return bad('duration-negative', 'is negative', { found, expected });
  }
  const decoded = /^\+?P/i.test(written) ? isoDuration(written) : unitDuration(written);
  if (!decoded.ok) return decoded;
  return decoded.value <= longestDurationMs
    ? decoded
    : bad('duration-too-long', 'is longer than a hundred years', { found, expected });
}

function unitDuration(written: string): Decoded<number> {
  const parts = [...written.matchAll(/(\d+(?:\.\d+)?)\s*([^\s\d.]+)\s*/gy)];
  const length = parts.reduce((sum, [part]) => sum + part.length, 0);
  if (parts.length === 0 || length !== written.length) {
    return bad('duration-unreadable', 'is not a duration', { found: written, expected });
  }
  let totalMs = 0;
  let lastUnitMs = Number.POSITIVE_INFINITY;
  for (const [index, [part, digits = '', unit = '']] of parts.entries()) {
    const ms = unitMs.get(unit);
    if (ms === undefined) return unknownUnit(written, digits, unit);
    if (ms >= lastUnitMs) {
      const hint = 'write each unit once, the largest first: 1h30m';
      return bad('duration-order', 'has its units in the wrong order', { found: written, hint });
    }
    lastUnitMs = ms;
    if (digits.includes('.') && index < parts.length - 1) {
      const hint = 'only the last unit may have decimals';
      return bad('duration-unreadable', `has decimals in ${part.trim()}`, {
        found: written,
        hint,
      });
    }
    if (digits.length > mostDigits) {
      return bad('duration-too-long', 'is longer than a hundred years', { found: written });
    }
    const product = timesWhole(digits, ms);
    if (product === null) return notWhole(written);
    totalMs += product;
  }
  return good(totalMs);
}

function unknownUnit(found: string, digits: string, unit: string): Decoded<number> {
  const lower = unit.toLowerCase();
  const hint = unit.startsWith(',')
    ? `write decimals with a point: ${found.replace(',', '.')}`
    : unitMs.has(lower)
      ? `write units in small letters: ${digits}${lower}`
      : 'the units are ms, s, m (minutes), h, d and w (weeks)';
  return bad('duration-unknown-unit', `has the unknown unit ${unit}`, { found, expected, hint });
}

function notWhole(found: string): Decoded<number> {
  const hint = 'the shortest step is 1ms';
  return bad('duration-not-whole-ms', 'is not a whole number of milliseconds', { found, hint });
}

function isoDuration(written: string): Decoded<number> {
  let duration: Temporal.Duration;
  try {
    duration = Temporal.Duration.from(written.replace(/^\+/, ''));
  } catch {
    const hint = 'in ISO 8601, PT3M is three minutes and P2D two days';
    return bad('duration-unreadable', 'is not a duration', { found: written, expected, hint });
  }
  if (duration.sign < 0) return bad('duration-negative', 'is negative', { found: written });
  if (duration.years !== 0 || duration.months !== 0) {
    const hint = 'years and months have no fixed length: write days';
    return bad('duration-unreadable', 'is in years or months', { found: written, hint });
  }
  if (duration.microseconds !== 0 || duration.nanoseconds !== 0) return notWhole(written);
  const days = duration.weeks * 7 + duration.days;
  const hours = days * 24 + duration.hours;
  const seconds = (hours * 60 + duration.minutes) * 60 + duration.seconds;
  return good(seconds * 1_000 + duration.milliseconds);
}
