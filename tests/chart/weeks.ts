// Timelines of many openings, the same on every run.
import { randomStream } from '../../src/base/index.js';
import type { Pairs } from '../support/experiments.js';
import { dayMs, hourMs, minuteMs } from './drawn.js';

/** Openings from 06:00 to 19:00 of each day: brief ones, and a share left open for 5 to 40 minutes. */
export function usage(
  days: number,
  {
    seed,
    perDay,
    leaveShare,
  }: { readonly seed: string; readonly perDay: number; readonly leaveShare: number },
): Pairs {
  const stream = randomStream(seed, 'usage');
  return Array.from({ length: days * perDay }, (_, index) => {
    const day = Math.floor(index / perDay);
    const fromMs = day * dayMs + 6 * hourMs + stream.whole(0, 13 * hourMs);
    const left = stream.unit() < leaveShare;
    return [
      fromMs,
      fromMs + (left ? stream.whole(5 * minuteMs, 40 * minuteMs) : stream.whole(5_000, 120_000)),
    ] as const;
  });
}
