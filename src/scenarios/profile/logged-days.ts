// A log cut into its local days: what years as logged are put together from, and what is resampled to see how far
// another sample of the same door would have led to another profile.
import { cellAt, itemAt } from '../../base/index.js';
import { firstAfter, noSpans, type Spans } from '../../world/index.js';
import { localDays } from '../time/local-time.js';
import type { LoggedDay, TimelineStart } from '../types.js';
import { isWeekend } from './hour-spans.js';

interface DayPart extends LoggedDay {
  /** What of the day the log covers, in milliseconds since midnight. */
  readonly fromMs: number;
  readonly toMs: number;
  /** What of that nobody saw. */
  readonly unseen: readonly { readonly fromMs: number; readonly toMs: number }[];
}

/** What is known of the openings of a log beside when they began. */
export interface SeenDays {
  /** How long an opening counts as, by its index; absent: as it lasts within the log. */
  readonly lengthAt?: ((index: number) => number) | undefined;
  /** Spans of which nothing is known; absent: none. */
  readonly unseen?: Spans | undefined;
}

/** A day of which no more than this was not seen has its other hours from another day. */
const mostUnseen = 0.5;

/** Days of which too little was seen are left out, unless there is no other; the rest borrow from others the hours in which nothing was seen. */
function withUnseenFilled(parts: readonly DayPart[]): readonly DayPart[] {
  if (parts.every(({ unseen }) => unseen.length === 0)) return parts;
  const enough = parts.filter(({ fromMs, toMs, unseen }) => {
    const hiddenMs = unseen.reduce((sum, one) => sum + one.toMs - one.fromMs, 0);
    return hiddenMs <= mostUnseen * (toMs - fromMs);
  });
  return enough.length === 0 ? parts : enough.map((_, index) => filled(enough, index));
}

function filled(parts: readonly DayPart[], index: number): DayPart {
  const part = itemAt(parts, index);
  const others = parts.map((_, step) => itemAt(parts, (index + 1 + step) % parts.length));
  const near = [
    ...others.filter(({ weekend }) => weekend === part.weekend),
    ...others.filter(({ weekend }) => weekend !== part.weekend),
  ];
  const borrowed = part.unseen.flatMap((span) => {
    const saw = near.find(
      ({ fromMs, toMs, unseen }) =>
        fromMs <= span.fromMs &&
        toMs >= span.toMs &&
        unseen.every((one) => one.toMs <= span.fromMs || one.fromMs >= span.toMs),
    );
    return (saw?.openings ?? []).filter(({ atMs }) => atMs >= span.fromMs && atMs < span.toMs);
  });
  const openings = [...part.openings, ...borrowed].sort((a, b) => a.atMs - b.atMs);
  return { ...part, openings };
}

/**
 * The days of a log, each with the openings that began in it. The first and the last are covered in part. Where one ends
 * before the time of day at which the other begins they make up one day; else each lends the other the hours that it
 * lacks.
 */
export function loggedDays(
  start: TimelineStart,
  lengthMs: number,
  openings: Spans,
  seen: SeenDays = {},
): readonly LoggedDay[] {
  const parts = withUnseenFilled(partsOf(start, lengthMs, openings, seen));
  const first = parts[0];
  const last = parts.at(-1);
  if (first === undefined || last === undefined || first === last) return parts.map(dayOf);
  const between = parts.slice(1, -1);
  const early = last.openings.filter(({ atMs }) => atMs < first.fromMs);
  const begun = { weekend: first.weekend, openings: [...early, ...first.openings] };
  if (last.toMs <= first.fromMs) return [begun, ...between].map(dayOf);
  const late = first.openings.filter(({ atMs }) => atMs >= last.toMs);
  const ended = { weekend: last.weekend, openings: [...last.openings, ...late] };
  return [begun, ...between, ended].map(dayOf);
}

function dayOf({ weekend, openings }: LoggedDay): LoggedDay {
  return { weekend, openings };
}

function partsOf(
  start: TimelineStart,
  lengthMs: number,
  openings: Spans,
  { lengthAt, unseen = noSpans }: SeenDays,
): DayPart[] {
  let index = 0;
  return localDays(start, lengthMs).map((day): DayPart => {
    const within: { atMs: number; forMs: number }[] = [];
    while (index < openings.fromMs.length && cellAt(openings.fromMs, index) < day.toMs) {
      const fromMs = cellAt(openings.fromMs, index);
      const toMs = Math.min(lengthMs, cellAt(openings.toMs, index));
      const forMs = Math.max(1, lengthAt?.(index) ?? toMs - fromMs);
      within.push({ atMs: fromMs - day.fromMs, forMs });
      index += 1;
    }
    return {
      weekend: isWeekend(day.weekday),
      openings: within,
      fromMs: Math.max(0, -day.fromMs),
      toMs: Math.min(day.toMs, lengthMs) - day.fromMs,
      unseen: withinDay(unseen, {
        fromMs: Math.max(0, day.fromMs),
        toMs: Math.min(day.toMs, lengthMs),
      }).map((span) => ({ fromMs: span.fromMs - day.fromMs, toMs: span.toMs - day.fromMs })),
    };
  });
}

function withinDay(
  { fromMs: starts, toMs: ends }: Spans,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): { readonly fromMs: number; readonly toMs: number }[] {
  const spans: { fromMs: number; toMs: number }[] = [];
  for (let span = firstAfter(ends, fromMs); span < starts.length; span += 1) {
    if (cellAt(starts, span) >= toMs) break;
    spans.push({
      fromMs: Math.max(fromMs, cellAt(starts, span)),
      toMs: Math.min(toMs, cellAt(ends, span)),
    });
  }
  return spans;
}
