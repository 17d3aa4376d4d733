// Delays by the million in little room: a histogram whose bins are as fine as a millisecond at first, and never
// coarser than 1/512 of what they hold. Joining two is adding their bins, so that no order of joining matters.
import { invariant } from '../base/index.js';

/** How often each delay was seen; the key names a bin. */
export type Delays = Map<number, number>;

/** Bins in each doubling; below twice as many ms a bin is one ms. */
const binsADoubling = 512;

/** The bin of a delay in whole ms. */
function binOf(delayMs: number): number {
  invariant(Number.isSafeInteger(delayMs) && delayMs >= 0, 'a delay is whole ms', { delayMs });
  let width = 1;
  let doublings = 0;
  while (delayMs / width >= 2 * binsADoubling) {
    width *= 2;
    doublings += 1;
  }
  return doublings * binsADoubling + Math.floor(delayMs / width);
}

/** The delays that a bin holds: from `fromMs` to before `toMs`. */
export function binSpan(bin: number): { readonly fromMs: number; readonly toMs: number } {
  const doublings = Math.max(0, Math.floor(bin / binsADoubling) - 1);
  const width = 2 ** doublings;
  const fromMs = (bin - doublings * binsADoubling) * width;
  return { fromMs, toMs: fromMs + width };
}

export function addDelay(delays: Delays, delayMs: number): void {
  const bin = binOf(delayMs);
  delays.set(bin, (delays.get(bin) ?? 0) + 1);
}

/** Bins that hold something, the shortest delays first. */
export function binsInOrder(delays: Delays): readonly (readonly [bin: number, count: number])[] {
  return [...delays].sort((a, b) => a[0] - b[0]);
}

/**
 * The least delay that at least `share` of all delays do not exceed, up to the end of its bin: at most 0.2 % too much.
 * Null when there are none.
 */
export function delayPercentile(delays: Delays, share: number): number | null {
  const bins = binsInOrder(delays);
  const total = bins.reduce((sum, [, count]) => sum + count, 0);
  let seen = 0;
  for (const [bin, count] of bins) {
    seen += count;
    if (seen >= share * total) return binSpan(bin).toMs - 1;
  }
  return null;
}
