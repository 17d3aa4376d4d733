// Settings that are each within their limits and together make a table that is too large to compile.
import type { WatchSettings } from '../../machine/index.js';
import { isCompilable, mostAttempts } from '../../model/index.js';
import type { Problem } from '../text/problem.js';

/** What is wrong with settings whose table would be too large, or null. */
export function stateCountFault(watch: WatchSettings): Problem | null {
  if (isCompilable(watch)) return null;
  const attempts = mostAttempts(watch);
  const fewer = attempts < 1 ? '' : `with at most ${String(attempts)} retry attempts it works, or `;
  return {
    code: 'too-many-states',
    says: `is more than can be followed together with clearThreshold ${String(watch.clearThreshold)} and ${String(watch.retryAttempts)} retry attempts`,
    hint: `${fewer}with a smaller outOf or clearThreshold`,
  };
}
