// The Pareto front: settings that no others beat. One beats another when it is no worse in anything that counts, and
// better in something.
import { costsOf, nothingAtRest, type RestRequirements, type Trial } from './trial.js';

/** Whether costs are nowhere more and somewhere less. */
export function beats(costs: readonly number[], others: readonly number[]): boolean {
  let isLess = false;
  for (const [index, cost] of costs.entries()) {
    const other = others[index] ?? 0;
    if (cost > other) return false;
    if (cost < other) isLess = true;
  }
  return isLess;
}

/** Settings that come to the same in all that counts. */
export interface FrontPoint {
  readonly trial: Trial;
  /** How many others do just as well. */
  readonly alike: number;
}

/**
 * The front of all trials, the quickest first.
 * @param quietUpToMs how long an opening must raise no alert; null: not required.
 * @param preferred of settings that do equally well, the one with the least of this stands for them.
 * @param atRest what must hold at rest beside bounds from any state.
 */
export function frontOf(
  trials: readonly Trial[],
  quietUpToMs: number | null,
  preferred: (trial: Trial) => number,
  atRest: RestRequirements = nothingAtRest,
): readonly FrontPoint[] {
  const sorted = trials
    .map((trial) => ({
      trial,
      costs: costsOf(trial, quietUpToMs, atRest),
      order: preferred(trial),
    }))
    .sort((a, b) => compare(a.costs, b.costs) || a.order - b.order);
  // In this order nothing is beaten by what comes after it.
  const front: { trial: Trial; costs: readonly number[]; alike: number }[] = [];
  for (const { trial, costs } of sorted) {
    const last = front.at(-1);
    if (last !== undefined && compare(last.costs, costs) === 0) last.alike += 1;
    else if (!front.some((one) => beats(one.costs, costs))) front.push({ trial, costs, alike: 0 });
  }
  return front.map(({ trial, alike }) => ({ trial, alike }));
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (const [index, value] of a.entries()) {
    const other = b[index] ?? 0;
    // Two infinities are equal, and their difference is no number.
    if (value !== other) return value < other ? -1 : 1;
  }
  return 0;
}
