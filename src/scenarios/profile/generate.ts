// A door drawn from a usage profile. Each opening has a stream of its own, named by its day, hour and number
// within the hour: a longer timeline, or one opening fewer, changes no other.
import { randomStream } from '../../base/index.js';
import { type LocalDay, localDays, localTime } from '../time/local-time.js';
import type { TimelineStart, UsageProfile } from '../types.js';
import { drawCount, drawDuration } from './draw.js';

const hourMs = 3_600_000;

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
  const drawn = localDays(span.start, span.lengthMs).flatMap((day, index) =>
    openingsOfDay(profile, { ...day, index, start: span.start }, seed),
  );
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

function openingsOfDay(
  profile: UsageProfile,
  day: LocalDay & { readonly index: number; readonly start: TimelineStart },
  seed: string,
): DrawnOpening[] {
  const weekend = day.weekday === 'Sat' || day.weekday === 'Sun';
  const factor = weekend ? profile.weekendFactor : profile.weekdayFactor;
  const openings: DrawnOpening[] = [];
  // A day has 23 to 25 hours: an hour that daylight saving skips or repeats is skipped or repeated here.
  for (let hour = 0; day.fromMs + hour * hourMs < day.toMs; hour += 1) {
    const fromMs = day.fromMs + hour * hourMs;
    const lengthMs = Math.min(hourMs, day.toMs - fromMs);
    const localHour = Number(localTime(day.start, fromMs).time.slice(0, 2));
    const rate = profile.openingsPerHour[localHour] ?? 0;
    const mean = (rate * factor * lengthMs) / hourMs;
    const count = drawCount(mean, randomStream(seed, 'openings', day.index, hour));
    for (let number = 0; number < count; number += 1) {
      const stream = randomStream(seed, 'opening', day.index, hour, number);
      const startMs = fromMs + stream.whole(0, lengthMs - 1);
      const leaveOpen = profile.leaveOpen !== null && stream.unit() < profile.leaveOpen.share;
      const habit = leaveOpen ? profile.leaveOpen : null;
      const durationMs = drawDuration(habit?.duration ?? profile.duration, stream);
      openings.push({ fromMs: startMs, toMs: startMs + durationMs, leaveOpen });
    }
  }
  return openings;
}
