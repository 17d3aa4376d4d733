// Settings that are each within their limits and together make a table that is too large to compile.
import type { WatchSettings } from '../../machine/index.js';
import { isCompilable, mostAttempts } from '../../model/index.js';
import type { Problem } from '../text/problem.js';

/** The error for settings whose table would be too large, or null. */
export function stateCountFault(watch: WatchSettings): Problem | null {
  if (isCompilable(watch)) return null;
  const attempts = mostAttempts(watch);
  const fewer = attempts < 1 ? '' : `make retry.attempts at most ${String(attempts)}, or `;
  return {
    code: 'too-many-states',
    says: `has too many states together with clearThreshold ${String(watch.clearThreshold)} and retry.attempts ${String(watch.retryAttempts)}`,
    hint: `${fewer}lower outOf or clearThreshold`,
  };
}
