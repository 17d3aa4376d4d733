// A door drawn from a usage profile. Each opening has a stream of its own, named by its day, hour and number
// within the hour: a longer timeline, or one opening fewer, changes no other.
import { hourMs, itemAt, type RandomStream, randomStream } from '../../base/index.js';
import { type LocalDay, localDays, localTime } from '../time/local-time.js';
import type { LoggedDay, TimelineStart, UsageProfile } from '../types.js';
import { drawCount, drawDuration } from './draw.js';
import { isWeekend } from './hour-spans.js';
import { visitDrawer } from './visit-draws.js';
import { daysFor } from './year-doors.js';

/** An opening that a profile drew. */
export interface DrawnOpening {
  readonly fromMs: number;
  readonly toMs: number;
  /** Whether it is one of those left open. */
  readonly leaveOpen: boolean;
}

/**
 * Draws a door's openings, in milliseconds from the start: ascending, not touching each other. A person who comes while
 * the door is open walks through it: that draw makes no opening. The last one may reach past the end.
 * @param seed the same seed gives the same door on any machine.
 */
export function generateDoor(
  profile: UsageProfile,
  span: { readonly start: TimelineStart; readonly lengthMs: number },
  seed: string,
): readonly DrawnOpening[] {
  const days = localDays(span.start, span.lengthMs).map((day, index) => ({
    ...day,
    index,
    start: span.start,
  }));
  const drawn = drawnOn(profile, days, seed);
  drawn.sort((a, b) => a.fromMs - b.fromMs);
  const door: DrawnOpening[] = [];
  let shutAtMs = Number.NEGATIVE_INFINITY;
  for (const opening of drawn) {
    if (opening.fromMs < 0 || opening.fromMs >= span.lengthMs) continue;
    if (opening.fromMs <= shutAtMs) continue;
    shutAtMs = opening.toMs;
    door.push(opening);
  }
  return door;
}

interface Day extends LocalDay {
  readonly index: number;
  readonly start: TimelineStart;
}

function drawnOn(profile: UsageProfile, days: readonly Day[], seed: string): DrawnOpening[] {
  const { days: logged, visits } = profile;
  if (logged !== undefined) return days.flatMap((day) => openingsAsLogged(logged, day, seed));
  if (visits === undefined) return days.flatMap((day) => openingsOfDay(profile, day, seed));
  return openingsOfVisits({ ...profile, visits }, days, seed);
}

function openingsAsLogged(logged: readonly LoggedDay[], day: Day, seed: string): DrawnOpening[] {
  const pool = daysFor(logged, isWeekend(day.weekday));
  const stream = randomStream(seed, 'day as logged', day.index);
  return itemAt(pool, stream.whole(0, pool.length - 1)).openings.map(({ atMs, forMs }) => ({
    fromMs: day.fromMs + atMs,
    toMs: day.fromMs + atMs + forMs,
    leaveOpen: false,
  }));
}

/** Each visit has a stream of its own. One that would begin during another makes no opening. */
function openingsOfVisits(
  profile: UsageProfile & { readonly visits: NonNullable<UsageProfile['visits']> },
  days: readonly Day[],
  seed: string,
): DrawnOpening[] {
  let stream: RandomStream = randomStream(seed, 'visits');
  const drawer = visitDrawer(profile, { unit: () => stream.unit() });
  const drawn: DrawnOpening[] = [];
  let goneAtMs = Number.NEGATIVE_INFINITY;
  const starts = days.flatMap((day) =>
    startsOfDay(profile, day, { seed, purpose: 'visit' }).sort((a, b) => a.fromMs - b.fromMs),
  );
  for (const start of starts) {
    if (start.fromMs <= goneAtMs) continue;
    ({ stream } = start);
    drawer.restart();
    goneAtMs = drawer.visit(start.fromMs, (fromMs, toMs, leaveOpen) => {
      drawn.push({ fromMs, toMs, leaveOpen });
    });
  }
  return drawn;
}

function openingsOfDay(profile: UsageProfile, day: Day, seed: string): DrawnOpening[] {
  return startsOfDay(profile, day, { seed, purpose: 'opening' }).map(({ fromMs, stream }) => {
    const leaveOpen = profile.leaveOpen !== null && stream.unit() < profile.leaveOpen.share;
    const habit = leaveOpen ? profile.leaveOpen : null;
    const durationMs = drawDuration(habit?.duration ?? profile.duration, stream);
    return { fromMs, toMs: fromMs + durationMs, leaveOpen };
  });
}

/** When visits (or openings) of a day begin, each with the stream that decides the rest of it. */
function startsOfDay(
  profile: UsageProfile,
  day: Day,
  { seed, purpose }: { readonly seed: string; readonly purpose: 'opening' | 'visit' },
) {
  const factor = isWeekend(day.weekday) ? profile.weekendFactor : profile.weekdayFactor;
  const starts: { readonly fromMs: number; readonly stream: RandomStream }[] = [];
  // A day has 23 to 25 hours: an hour that daylight saving skips or repeats is skipped or repeated here.
  for (let hour = 0; day.fromMs + hour * hourMs < day.toMs; hour += 1) {
    const fromMs = day.fromMs + hour * hourMs;
    const lengthMs = Math.min(hourMs, day.toMs - fromMs);
    const localHour = Number(localTime(day.start, fromMs).time.slice(0, 2));
    const rate = profile.openingsPerHour[localHour] ?? 0;
    const mean = (rate * factor * lengthMs) / hourMs;
    const count = drawCount(mean, randomStream(seed, `${purpose}s`, day.index, hour));
    for (let number = 0; number < count; number += 1) {
      const stream = randomStream(seed, purpose, day.index, hour, number);
      starts.push({ fromMs: fromMs + stream.whole(0, lengthMs - 1), stream });
    }
  }
  return starts;
}
