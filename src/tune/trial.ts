// Settings that were tried, with all that is known of them.
import type { Tuned } from './grid.js';
import type { YearsSay } from './live.js';
import type { Proved } from './prove.js';

export interface Trial {
  readonly settings: Tuned;
  readonly proved: Proved;
  readonly years: YearsSay;
}

/**
 * What settings are weighed by: each is better the less of it there is.
 * @param quietUpToMs how long an opening must raise no alert; beyond that, more of it counts for nothing.
 */
export function costsOf({ proved, years }: Trial, quietUpToMs: number | null): readonly number[] {
  const { worstDelayMs, sureFromMs, quietUpToMs: quietMs } = proved.inSpiteOfBounce;
  return [
    worstDelayMs,
    sureFromMs,
    -years.lifeMs,
    years.rates.missed.perYear,
    years.rates.late.perYear,
    years.rates.falseAlarms.perYear,
    -Math.min(quietMs, quietUpToMs ?? 0),
  ];
}
