// Which setting of the best to recommend: step by step, each step keeping what is as good as the best of what is left,
// as far as the simulated years can tell.
import { greatestOf } from '../base/index.js';
import type { Weighed, WeighedName } from './live.js';
import type { Trial } from './trial.js';

/** What matters first: few misses, few false alarms, or a long life. */
export const preferences = ['sure', 'quiet', 'life'] as const;
export type Preference = (typeof preferences)[number];

type Step = 'missed' | 'late' | 'falseAlarms' | 'life';

/** The steps, one after the other. */
export const stepsOf: Readonly<Record<Preference, readonly Step[]>> = {
  sure: ['missed', 'late', 'falseAlarms', 'life'],
  quiet: ['falseAlarms', 'missed', 'late', 'life'],
  life: ['life', 'missed', 'late', 'falseAlarms'],
};

/** Lives that differ by less are as good as equal: a battery's capacity differs by more. */
const sameLife = 0.03;

/** Null: nothing to choose from. */
export function choose(trials: readonly Trial[], prefer: Preference): Trial | null {
  let left = trials;
  for (const step of stepsOf[prefer]) {
    left = step === 'life' ? longLived(left) : fewest(left, step);
  }
  // Of those that are left, the soonest alert; then the shortest opening that is sure to be reported; then the longest life.
  return (
    left.toSorted(
      (a, b) =>
        order(a.proved.worstDelayMs, b.proved.worstDelayMs) ||
        order(a.proved.sureFromMs, b.proved.sureFromMs) ||
        order(b.years.lifeMs, a.years.lifeMs),
    )[0] ?? null
  );
}

/** Two infinities are equal, and their difference is no number. */
function order(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

/**
 * Those whose rate lies within the interval of the least. Where the profile is in doubt: over the profile and all its
 * resamples, so that no choice is kept that is good for this log alone.
 */
function fewest(trials: readonly Trial[], name: WeighedName): readonly Trial[] {
  const isInDoubt = trials.every(({ years }) => years.overall !== undefined);
  const rateOf = ({ years }: Trial): Pick<Weighed, 'perYear' | 'high'> =>
    (isInDoubt ? years.overall : undefined)?.[name] ?? years.rates[name];
  const [least] = trials.map(rateOf).sort((a, b) => a.perYear - b.perYear);
  if (least === undefined) return trials;
  return trials.filter((trial) => rateOf(trial).perYear <= least.high);
}

function longLived(trials: readonly Trial[]): readonly Trial[] {
  const longest = greatestOf(trials.map(({ years }) => years.lifeMs));
  return trials.filter(({ years }) => years.lifeMs >= (1 - sameLife) * longest);
}
