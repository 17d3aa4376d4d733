// Values to try in turn: round durations, and the first of a list that helps.
import { itemAt } from '../../base/index.js';
import { isWithin, sleepLimits } from '../../model/index.js';

/** The first of those for which something holds, as it goes on holding from there; null: it holds nowhere. */
export function firstTrue<T>(list: readonly T[], holds: (one: T) => boolean): T | null {
  const last = list.at(-1);
  if (last === undefined || !holds(last)) return null;
  let low = 0;
  let high = list.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(itemAt(list, middle))) high = middle;
    else low = middle + 1;
  }
  return itemAt(list, low);
}

/** Round durations, as a person would choose them. */
const roundSeconds = [
  1, 2, 3, 5, 10, 15, 20, 30, 45, 60, 90, 120, 150, 180, 240, 300, 360, 420, 480, 600, 720, 900,
  1_200, 1_800, 2_700, 3_600, 5_400, 7_200, 10_800, 14_400, 21_600, 43_200, 86_400,
] as const;

const roundMs: readonly number[] = roundSeconds.map((seconds) => seconds * 1_000);

/** Round durations of at most this, the longest first: each is one that a watch file accepts for a sleep. */
export function roundUpTo(ms: number): readonly number[] {
  return roundMs.filter((round) => round <= ms && isWithin(round, sleepLimits)).toReversed();
}

/** Round durations of more than this, the shortest first. */
export function roundOver(ms: number): readonly number[] {
  return roundMs.filter((round) => round > ms && isWithin(round, sleepLimits));
}
