// The logic is compiled into a table of all its states. Every remembered pattern of checks is one, times every
// count of failed attempts: some settings, each fine by itself, together make a table that takes minutes.
import type { WatchSettings } from '../../machine/index.js';
import type { Problem } from '../text/problem.js';

/** Patterns times attempts; about 20,000 states, and six seconds. */
const mostCombinations = 10_000;

/** What is wrong with settings whose table would be too large, or null. */
export function stateCountFault(watch: WatchSettings): Problem | null {
  const patterns = patternCount(watch.escalationThreshold.outOf, watch.clearThreshold);
  if (patterns * (watch.retryAttempts + 3) <= mostCombinations) return null;
  const attempts = Math.floor(mostCombinations / patterns) - 3;
  return {
    code: 'too-many-states',
    says: `is more than can be followed together with clearThreshold ${String(watch.clearThreshold)} and ${String(watch.retryAttempts)} retry attempts`,
    hint: `with at most ${String(attempts)} retry attempts it works, or with a smaller outOf or clearThreshold`,
  };
}

/** The patterns of open and shut checks that memory can hold: at most `outOf` long, shut runs below the clear threshold. */
function patternCount(outOf: number, clearThreshold: number): number {
  // By the length of the shut run at the pattern's end.
  let ending = [1];
  let total = 1;
  for (let length = 1; length <= outOf; length += 1) {
    total += ending.reduce((sum, count) => sum + count, 0);
    const open = ending.reduce((sum, count) => sum + count, 0);
    ending = [open, ...ending.slice(0, clearThreshold - 1)];
  }
  return total;
}
