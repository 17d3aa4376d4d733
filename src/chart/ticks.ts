// Ticks of an axis in local time, at round times of the wall clock, with labels that do not touch.
import {
  type Calendar,
  clockText,
  dayMs,
  type LocalDay,
  monthText,
  weekdayText,
} from './calendar.js';
import { textWidth } from './text.js';

export interface Tick {
  readonly atMs: number;
  readonly label: string;
  /** The first tick of a day carries the date; everything else hangs from it. */
  readonly startsDay: boolean;
}

/** As the axis writes them. */
const labelSizePx = 11;

/** Round lengths of time up to half a day, ascending. */
export const roundStepsMs = [
  1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000, 10_000, 15_000, 30_000, 60_000, 120_000,
  300_000, 600_000, 900_000, 1_800_000, 3_600_000, 7_200_000, 10_800_000, 21_600_000, 43_200_000,
];

/** Days from one tick to the next, where not each has room for its date. */
const roundDays = [1, 2, 7, 14, 28, 91];
const dateRoomPx = 84;

/** Width of the widest label of that step, with the space that should be around it. */
function labelRoom(stepMs: number): number {
  return stepMs < 1_000 ? 90 : stepMs < 60_000 ? 66 : 50;
}

/** The smallest round step whose labels have room. */
export function stepFor(spanMs: number, widthPx: number): number {
  return roundStepsMs.find((step) => (step / spanMs) * widthPx >= labelRoom(step)) ?? dayMs;
}

function daysFor(spanMs: number, widthPx: number): number {
  return roundDays.find((days) => ((days * dayMs) / spanMs) * widthPx >= dateRoomPx) ?? 364;
}

/** Round local times in `[fromMs, toMs)`, as close as labels have room. */
export function ticksOf(
  calendar: Calendar,
  { fromMs, toMs, widthPx }: { fromMs: number; toMs: number; widthPx: number },
): Tick[] {
  const stepMs = stepFor(toMs - fromMs, widthPx);
  const grain = stepMs < 1_000 ? 'millisecond' : stepMs < 60_000 ? 'second' : 'minute';
  const everyDays = stepMs < dayMs ? 1 : daysFor(toMs - fromMs, widthPx);
  const ticks: Tick[] = [];
  for (const [index, day] of calendar.days.entries()) {
    if (index % everyDays !== 0) continue;
    if (day.toMs <= fromMs || day.fromMs >= toMs) continue;
    for (const piece of day.pieces) {
      const first = Math.ceil((Math.max(piece.fromMs, fromMs) + piece.shiftMs) / stepMs) * stepMs;
      const end = Math.min(piece.toMs, toMs) + piece.shiftMs;
      for (let wallMs = first; wallMs < end; wallMs += stepMs) {
        const atMs = wallMs - piece.shiftMs;
        const startsDay = wallMs === 0;
        const label = startsDay ? dayLabel(day) : clockText(wallMs, grain);
        ticks.push({ atMs, label, startsDay });
      }
    }
  }
  return ticks;
}

const labelGapPx = 8;

/** Those ticks whose labels have room: the days' first, then what fits between them, and none over the right edge. */
export function labelled(
  ticks: readonly Tick[],
  { x, widthPx }: { readonly x: (atMs: number) => number; readonly widthPx: number },
): ReadonlySet<Tick> {
  const taken: (readonly [number, number])[] = [];
  const shown = new Set<Tick>();
  const days = ticks.filter(({ startsDay }) => startsDay);
  const others = ticks.filter(({ startsDay }) => !startsDay);
  for (const tick of [...days, ...others]) {
    const half = textWidth(tick.label, { sizePx: labelSizePx, bold: tick.startsDay }) / 2;
    const [from, to] = [x(tick.atMs) - half, x(tick.atMs) + half];
    if (to > widthPx - labelGapPx / 2) continue;
    if (taken.some((other) => from < other[1] + labelGapPx && to > other[0] - labelGapPx)) continue;
    taken.push([from, to]);
    shown.add(tick);
  }
  return shown;
}

function dayLabel(day: LocalDay): string {
  return `${weekdayText(day)} ${String(day.dayOfMonth)} ${monthText(day)}`;
}
