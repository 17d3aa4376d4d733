// Instants of a scenario, as a person writes them: a time of day, a time on a later day, a duration after the start,
// or a full date. What they mean depends on when the scenario starts, and is worked out apart.
import { Temporal } from 'temporal-polyfill';
import { writeDuration } from '../../base/index.js';
import { readDuration } from '../quantity/duration.js';
import { bad, type Decoded, good } from '../text/problem.js';
import type { TimelineStart } from '../types.js';
import { localInstant, readInstant } from './instant.js';
import { zoneOf } from './local-time.js';
import { fixedOffset } from './zone.js';

/** What was written, once understood. */
export type WrittenInstant =
  | { readonly kind: 'after-start'; readonly ms: number }
  /** The next such time of day; on the numbered day when there is one (1: the day of the start). */
  | {
      readonly kind: 'clock';
      readonly time: string;
      readonly day: number | null;
      readonly offset: string | null;
      readonly text: string;
    }
  | { readonly kind: 'calendar'; readonly text: string }
  | { readonly kind: 'end' };

/** What an instant is counted from. */
export interface InstantContext {
  readonly start: TimelineStart;
  /** A time of day is the next one at or after this; milliseconds from the start. */
  readonly notBeforeMs: number;
}

const expected = 'an instant such as "07:30", "day 2 07:30", +11h or 2026-05-08 07:30';

const clockText =
  /^(?:day (\d{1,4}),? (?:at )?)?(\d{1,2}):(\d{2})(?::(\d{2})(\.\d{1,3})?)?(Z|[+-]\d{2}(?::?\d{2})?)?$/i;

/** For schemas. */
export const instantExamples = ['07:30', 'day 2 07:30', '+11h', '2026-05-08 07:30'];

/** Understands an instant. Errors: `instant-unreadable`, and those of a duration after `+`. */
export function readWrittenInstant(text: string): Decoded<WrittenInstant> {
  const written = text.trim();
  if (written === 'end') return good({ kind: 'end' });
  if (written === 'start') return good({ kind: 'after-start', ms: 0 });
  if (written.startsWith('+')) {
    const duration = readDuration(written.slice(1));
    return duration.ok ? good({ kind: 'after-start', ms: duration.value }) : duration;
  }
  const [clock, day, hours = '', minutes = '', seconds = '00', fraction = '', offset] =
    clockText.exec(written) ?? [];
  if (clock !== undefined) {
    if (Number(hours) > 23 || Number(minutes) > 59 || Number(seconds) > 59 || day === '0') {
      const hint = 'a time of day is from 00:00 to 23:59:59, and the first day is day 1';
      return bad('instant-unreadable', 'is not a time of day', { found: text, hint });
    }
    if (offset !== undefined && fixedOffset(offset) === null) {
      const hint = 'an offset from UTC is from -23:59 to +23:59';
      return bad('instant-unreadable', 'is not a time of day', { found: text, hint });
    }
    return good({
      kind: 'clock',
      time: `${hours.padStart(2, '0')}:${minutes}:${seconds}${fraction}`,
      day: day === undefined ? null : Number(day),
      offset: offset ?? null,
      text: written,
    });
  }
  if (/^\d{4}-/.test(written)) return good({ kind: 'calendar', text: written });
  const hint = readDuration(written).ok
    ? `for a time after the start, write +${written}`
    : undefined;
  return bad('instant-unreadable', 'is not an instant', { found: text, expected, hint });
}

/**
 * Works out an instant.
 * @returns milliseconds from the start, of either sign; `Infinity` for the end. Errors: those of an instant.
 */
export function resolveInstant(written: WrittenInstant, context: InstantContext): Decoded<number> {
  const { start } = context;
  switch (written.kind) {
    case 'end':
      return good(Number.POSITIVE_INFINITY);
    case 'after-start':
      return good(written.ms);
    case 'calendar': {
      const instant = readInstant(written.text, start.timeZone);
      return instant.ok ? good(instant.value.epochMs - start.epochMs) : instant;
    }
    case 'clock':
      return written.day === null
        ? nextTimeOfDay(written, context)
        : onDay(written, start, firstDate(start).add({ days: written.day - 1 }));
  }
}

type Clock = Extract<WrittenInstant, { kind: 'clock' }>;

function firstDate(start: TimelineStart): Temporal.PlainDate {
  return Temporal.Instant.fromEpochMilliseconds(start.epochMs)
    .toZonedDateTimeISO(start.timeZone)
    .toPlainDate();
}

function onDay(clock: Clock, start: TimelineStart, date: Temporal.PlainDate): Decoded<number> {
  const local = date.toPlainDateTime(clock.time);
  const offset = clock.offset === null ? null : fixedOffset(clock.offset);
  if (offset !== null) {
    return good(local.toZonedDateTime('UTC').epochMilliseconds - offset - start.epochMs);
  }
  const instant = localInstant(local, start.timeZone, clock.text);
  return instant.ok ? good(instant.value.epochMs - start.epochMs) : instant;
}

/** A day that lacks the time, or has it twice, is an error where its turn comes: it is not skipped. */
function nextTimeOfDay(clock: Clock, { start, notBeforeMs }: InstantContext): Decoded<number> {
  const reference = start.epochMs + notBeforeMs;
  const zone = zoneOf(start);
  const local = Temporal.Instant.fromEpochMilliseconds(reference + zone.offsetMs(reference));
  const date = local.toZonedDateTimeISO('UTC').toPlainDate();
  // The offset of a clock of its own may put it a day before or after the local date.
  for (let day = clock.offset === null ? 0 : -1; day <= 2; day += 1) {
    const instant = onDay(clock, start, date.add({ days: day }));
    if (instant.ok && instant.value >= notBeforeMs) return instant;
    if (!instant.ok && (day > 0 || latestReading(clock, start, date) >= notBeforeMs))
      return instant;
  }
  return bad('instant-unreadable', 'is a time of day that does not come again', {
    found: clock.text,
  });
}

/** The later of the two instants that a skipped or doubled local time could be, from the start. */
function latestReading(clock: Clock, start: TimelineStart, date: Temporal.PlainDate): number {
  const later = date
    .toPlainDateTime(clock.time)
    .toZonedDateTime(start.timeZone, { disambiguation: 'later' });
  return later.epochMilliseconds - start.epochMs;
}

/** A time after the start, as files write it. */
export function writeAfterStart(ms: number): string {
  return `+${writeDuration(ms)}`;
}
