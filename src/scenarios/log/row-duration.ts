// The length of an opening in a row: with units, as ISO 8601 or hours, minutes and seconds write it, or as a number whose unit
// stands in the name of its column or in an option.
import { longestDurationMs } from '../../model/index.js';
import { readDuration } from '../quantity/duration.js';
import { bad, type Decoded, good } from '../text/problem.js';
import type { DurationUnit } from '../types.js';

const unitMs = { ms: 1, s: 1_000, min: 60_000, h: 3_600_000 } as const;

const unitWords: readonly (readonly [DurationUnit, RegExp])[] = [
  ['mm:ss', /\bm+:ss\b/iu],
  ['hh:mm', /\bh+:mm\b(?!:)/iu],
  ['ms', /(?:^|[^a-z])(?:ms|msecs?|millis|milliseconds?)$/iu],
  ['s', /(?:^|[^a-z])(?:s|secs?|seconds?)$/iu],
  ['min', /(?:^|[^a-z])(?:mins?|minutes?)$/iu],
  ['h', /(?:^|[^a-z])(?:h|hrs?|hours?)$/iu],
];

/** The unit in the name of a column, as in `duration_s`, `Duration (min)` or `Minutes open`; null: it has none. */
export function unitInName(name: string): DurationUnit | null {
  const bare = name
    .trim()
    .replace(/[)\].]$/u, '')
    .replace(/[\s_-]{1,9}open$/iu, '');
  return unitWords.find(([, word]) => word.test(bare))?.[0] ?? null;
}

/** Reads lengths of one column. Errors: `log-duration-unreadable`, `log-duration-unit`. */
export function readRowDuration(text: string, unit: DurationUnit | null): Decoded<number> {
  const written = text.trim();
  const found = text;
  if (/^\d{1,15}(?:[.,]\d{1,20})?$/u.test(written)) {
    if (unit === null || unit === 'mm:ss' || unit === 'hh:mm') return numberAlone(found);
    const ms = Math.round(Number(written.replace(',', '.')) * unitMs[unit]);
    return ms <= longestDurationMs ? good(ms) : unreadable(found);
  }
  const parts =
    /^(?:(?<days>\d{1,5}) days?,? )?(?<a>\d{1,5}):(?<b>\d{2})(?::(?<c>\d{2})(?:[.,](?<f>\d{1,9}))?)?$/iu.exec(
      written,
    )?.groups;
  if (parts !== undefined) return colons(parts, unit, found);
  const spelled = written
    .replaceAll(/\s+/gu, '')
    .replaceAll(/(?<=\d)(?:milliseconds?|millis|msecs?)/giu, 'ms')
    .replaceAll(/(?<=\d)(?:minutes?|mins?)/giu, 'm')
    .replaceAll(/(?<=\d)(?:seconds?|secs?)/giu, 's')
    .replaceAll(/(?<=\d)(?:hours?|hrs?)/giu, 'h')
    .replaceAll(/(?<=\d)days?/giu, 'd');
  const read = readDuration(spelled);
  return read.ok ? read : unreadable(found);
}

function colons(
  { days = '0', a = '0', b = '0', c, f = '' }: Readonly<Record<string, string | undefined>>,
  unit: DurationUnit | null,
  found: string,
): Decoded<number> {
  if (Number(b) > 59 || Number(c ?? 0) > 59) return unreadable(found);
  const daysMs = Number(days) * 24 * unitMs.h;
  if (c !== undefined) {
    const fractionMs = Number(f.slice(0, 3).padEnd(3, '0'));
    return good(
      daysMs + Number(a) * unitMs.h + Number(b) * unitMs.min + Number(c) * unitMs.s + fractionMs,
    );
  }
  if (unit === 'hh:mm' || days !== '0')
    return good(daysMs + Number(a) * unitMs.h + Number(b) * unitMs.min);
  if (unit === 'mm:ss') return good(Number(a) * unitMs.min + Number(b) * unitMs.s);
  return bad('log-duration-unit', 'may be minutes and seconds, or hours and minutes', {
    found,
    hint: 'say which, with --duration-unit',
    tries: ['--duration-unit mm:ss', '--duration-unit hh:mm'],
  });
}

function numberAlone(found: string): Decoded<number> {
  return bad('log-duration-unit', 'is a number without a unit', {
    found,
    hint: 'say which unit, with --duration-unit (ms, s, min or h)',
    tries: ['--duration-unit s', '--duration-unit min'],
  });
}

function unreadable(found: string): Decoded<number> {
  return bad('log-duration-unreadable', 'is not a length of time', {
    found,
    expected: 'a length such as 90s, 13m, 1h30m, PT13M or 0:13:00, or a number and --duration-unit',
  });
}
