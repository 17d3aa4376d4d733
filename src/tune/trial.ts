// Settings that were tried, with all that is known of them.
import type { Tuned } from './grid.js';
import type { YearsSay } from './live.js';
import type { Proved } from './prove.js';

/** What is required at rest where bounds are from any state. */
export interface RestRequirements {
  /** Every opening of at least this length gets its alert at rest; null: not required. */
  readonly sureFromMs: number | null;
  readonly worstDelayMs: number | null;
}

export const nothingAtRest: RestRequirements = { sureFromMs: null, worstDelayMs: null };

export interface Trial {
  readonly settings: Tuned;
  readonly proved: Proved;
  readonly years: YearsSay;
}

/**
 * What settings are weighed by: each is better the less of it there is.
 * @param quietUpToMs how long an opening must raise no alert; beyond that, more of it counts for nothing.
 * @param atRest what must hold at rest beside bounds from any state; within that, less of it counts for nothing.
 */
export function costsOf(
  { proved, years }: Trial,
  quietUpToMs: number | null,
  atRest: RestRequirements = nothingAtRest,
): readonly number[] {
  const { worstDelayMs, sureFromMs, quietUpToMs: quietMs } = proved.inSpiteOfBounce;
  return [
    worstDelayMs,
    sureFromMs,
    -years.lifeMs,
    years.rates.missed.perYear,
    years.rates.late.perYear,
    years.rates.falseAlarms.perYear,
    -Math.min(quietMs, quietUpToMs ?? 0),
    beyond(proved.atRest?.sureFromMs, atRest.sureFromMs),
    beyond(proved.atRest?.worstDelayMs, atRest.worstDelayMs),
  ];
}

function beyond(ms: number | undefined, required: number | null): number {
  return ms === undefined || required === null ? 0 : Math.max(0, ms - required);
}
