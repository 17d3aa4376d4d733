// A timeline that ends too early: up to when it would have to go on, and how to say so.
import { minuteMs, writeDuration } from '../base/index.js';
import { localTime, type Timeline } from '../scenarios/index.js';
import { nextBorder, rangeMsOf, spanAt } from '../world/index.js';

export type Ending = Pick<Timeline, 'logged' | 'world' | 'timing' | 'start'>;

/**
 * An end by which an alert that was being sent at the end would have been delivered: the longest that an attempt takes, rounded up to
 * a whole minute of the clock. Null: the network would be down meanwhile, or a fault would come.
 */
export function laterEndMs({ world, timing, start, logged }: Ending): number | null {
  const { lengthMs, networkDown, powerLost, resetsMs } = world;
  const sentMs = lengthMs + rangeMsOf(timing.connectTime).most;
  const isCertain =
    spanAt(networkDown, lengthMs) < 0 &&
    nextBorder(networkDown, lengthMs) > sentMs &&
    nextBorder(powerLost, lengthMs - 1) > sentMs &&
    !resetsMs.some((ms) => ms >= lengthMs && ms <= sentMs);
  if (!isCertain) return null;
  const zeroMs = logged === null ? 0 : start.epochMs;
  return Math.ceil((zeroMs + sentMs) / minuteMs) * minuteMs - zeroMs;
}

/** `give a later end: --until 2026-06-01T12:07:00Z`; of a scenario `length: 4h7m`. */
export function laterEndWords({ logged, start }: Ending, endMs: number): string {
  const end =
    logged === null ? `length: ${writeDuration(endMs)}` : `--until ${untilText(start, endMs)}`;
  return `give a later end: ${end}`;
}

/** An instant as `--until` takes it, whatever the zone. */
export function untilText(start: Timeline['start'], atMs: number): string {
  const { date, time, offset } = localTime(start, atMs);
  return `${date}T${time}${offset}`;
}
