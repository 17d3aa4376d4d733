// The rows of an overview: one a day with 24 hours across, or one a week with seven days across. Across a row runs
// the wall clock: where clocks go forward a row has a hole, where they go back an hour is drawn in two halves.
import { type Calendar, dayMs, type LocalDay } from '../calendar.js';
import { clipped, type Window } from '../facts/window.js';

/** A stretch that runs steadily across its row: it starts `acrossMs` into it. */
interface Stretch extends Window {
  readonly acrossMs: number;
  /** The first pass of a repeated hour takes the upper half, the second the lower. */
  readonly half: 'whole' | 'upper' | 'lower';
}

export interface Row extends Window {
  readonly index: number;
  readonly days: readonly LocalDay[];
  readonly stretches: readonly Stretch[];
}

export interface Rows {
  readonly unit: 'day' | 'week';
  /** What a whole row spans, on the wall clock. */
  readonly acrossMs: number;
  readonly rows: readonly Row[];
}

/** Part of a span in a row; `from` and `to` are shares of the row's width. */
export interface RowPart {
  readonly row: number;
  readonly from: number;
  readonly to: number;
  readonly half: Stretch['half'];
}

/** More days than this are shown a week a row. */
const mostDayRows = 62;

export function rowsOf({ days }: Calendar): Rows {
  if (days.length <= mostDayRows) {
    return {
      unit: 'day',
      acrossMs: dayMs,
      rows: days.map((day, index) => rowOf(index, [day], () => 0)),
    };
  }
  const weeks: LocalDay[][] = [];
  for (const day of days) {
    const current = weeks.at(-1);
    if (current === undefined || day.weekday === 0) weeks.push([day]);
    else current.push(day);
  }
  return {
    unit: 'week',
    acrossMs: 7 * dayMs,
    rows: weeks.map((week, index) => rowOf(index, week, ({ weekday }) => weekday * dayMs)),
  };
}

/** @param dayStartMs where a day begins across the row. */
function rowOf(
  index: number,
  days: readonly LocalDay[],
  dayStartMs: (day: LocalDay) => number,
): Row {
  return {
    index,
    days,
    fromMs: days[0]?.fromMs ?? 0,
    toMs: days.at(-1)?.toMs ?? 0,
    stretches: days.flatMap((day) => stretchesOf(day, dayStartMs(day))),
  };
}

function stretchesOf({ pieces }: LocalDay, dayStartMs: number): Stretch[] {
  const [first, second] = pieces;
  if (first === undefined) return [];
  const across = (atMs: number, shiftMs: number): number => atMs + shiftMs + dayStartMs;
  const whole = (fromMs: number, toMs: number, shiftMs: number): Stretch => ({
    fromMs,
    toMs,
    acrossMs: across(fromMs, shiftMs),
    half: 'whole',
  });
  if (second === undefined) return [whole(first.fromMs, first.toMs, first.shiftMs)];
  const back = first.shiftMs - second.shiftMs;
  if (back <= 0) {
    return [first, second].map(({ fromMs, toMs, shiftMs }) => whole(fromMs, toMs, shiftMs));
  }
  const repeatMs = Math.min(back, first.toMs - first.fromMs, second.toMs - second.fromMs);
  const changeMs = first.toMs;
  const stretches: Stretch[] = [
    whole(first.fromMs, changeMs - repeatMs, first.shiftMs),
    { ...whole(changeMs - repeatMs, changeMs, first.shiftMs), half: 'upper' },
    { ...whole(changeMs, changeMs + repeatMs, second.shiftMs), half: 'lower' },
    whole(changeMs + repeatMs, second.toMs, second.shiftMs),
  ];
  return stretches.filter(({ fromMs, toMs }) => fromMs < toMs);
}

/** The index of the row that holds an instant. */
function rowAt({ rows }: Rows, atMs: number): number {
  let low = 0;
  let high = rows.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((rows[middle]?.fromMs ?? 0) <= atMs) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A span, cut to rows and to the stretches in them. */
export function partsOf(all: Rows, span: Window): RowPart[] {
  const parts: RowPart[] = [];
  for (let index = rowAt(all, span.fromMs); index < all.rows.length; index += 1) {
    const row = all.rows[index];
    if (row === undefined || row.fromMs >= span.toMs) break;
    for (const stretch of row.stretches) {
      const part = clipped(span, stretch);
      if (part === null) continue;
      const share = (atMs: number): number =>
        (atMs - stretch.fromMs + stretch.acrossMs) / all.acrossMs;
      parts.push({
        row: index,
        from: share(part.fromMs),
        to: share(part.toMs),
        half: stretch.half,
      });
    }
  }
  return parts;
}

/** Where an instant stands. */
export function pointOf(all: Rows, atMs: number): RowPart | null {
  return partsOf(all, { fromMs: atMs, toMs: atMs + 1 })[0] ?? null;
}

/** The stretches of a row that the wall clock shows but the timeline does not have: as shares of the width. */
export function holesOf(
  { acrossMs }: Rows,
  row: Row,
): { readonly from: number; readonly to: number }[] {
  const holes: { from: number; to: number }[] = [];
  let reached = 0;
  const shares = row.stretches
    .map(({ fromMs, toMs, acrossMs: start }) => [start, start + toMs - fromMs] as const)
    .sort((a, b) => a[0] - b[0]);
  for (const [start, end] of [...shares, [acrossMs, acrossMs] as const]) {
    if (start > reached) holes.push({ from: reached / acrossMs, to: start / acrossMs });
    reached = Math.max(reached, end);
  }
  return holes;
}
