// From counts to what they tell: rates a year and shares, each with its interval, and the spread of the delays.
import { binSpan, binsInOrder, delayPercentile } from './delays.js';
import { type Estimated, estimatedRate, estimatedShare } from './intervals.js';
import { type EventName, eventNames, type Tally } from './tally.js';

/** How often something happens in a year. */
export interface Rate extends Estimated {
  readonly count: number;
  readonly perYear: number;
  /**
   * Variance of the years' counts over their mean: 1 for events that come one by one, more for bursts, in which case
   * the interval is too narrow. Null: too little was seen.
   */
  readonly dispersion: number | null;
}

/** How many of the leave-opens. */
export interface Share extends Estimated {
  readonly count: number;
  readonly of: number;
  /** Null: of nothing. */
  readonly share: number | null;
}

export interface DelaySpread {
  readonly count: number;
  readonly leastMs: number | null;
  readonly worstMs: number | null;
  readonly percentiles: readonly { readonly percent: number; readonly ms: number | null }[];
  /** Bins that hold something, ascending: delays from `fromMs` to before `toMs`. */
  readonly histogram: readonly {
    readonly fromMs: number;
    readonly toMs: number;
    readonly count: number;
  }[];
}

export interface Estimate {
  readonly years: number;
  readonly confidence: number;
  readonly openingsPerYear: number;
  readonly leaveOpensPerYear: number;
  readonly rates: Readonly<Record<EventName, Rate>>;
  /** Of the leave-opens that were decided: those still open at the end of a year, with time left, are not. */
  readonly shares: Readonly<Record<'missed' | 'late', Share>>;
  readonly delays: DelaySpread;
}

const percents = [5, 25, 50, 75, 90, 95, 99, 99.9];

/** Fewer events than this say nothing of how they come. */
const fewestForDispersion = 10;

/** @param tally of at least one year. */
export function estimateOf(tally: Tally, confidence: number): Estimate {
  const { years, counts } = tally;
  const decided = counts.leaveOpens - counts.undecided;
  const rate = (name: EventName): Rate => rateOf(tally, name, confidence);
  const share = (name: 'missed' | 'late'): Share => ({
    count: counts[name],
    of: decided,
    share: decided === 0 ? null : counts[name] / decided,
    ...estimatedShare(counts[name], decided, confidence),
  });
  const [missed, late, falseAlarms, earlyAlerts, repeats] = [
    rate('missed'),
    rate('late'),
    rate('falseAlarms'),
    rate('earlyAlerts'),
    rate('repeats'),
  ];
  return {
    years,
    confidence,
    openingsPerYear: counts.openings / years,
    leaveOpensPerYear: counts.leaveOpens / years,
    rates: { missed, late, falseAlarms, earlyAlerts, repeats },
    shares: { missed: share('missed'), late: share('late') },
    delays: spreadOf(tally),
  };
}

function rateOf({ years, counts, squares }: Tally, name: EventName, confidence: number): Rate {
  const count = counts[name];
  const mean = count / years;
  const enough = years > 1 && count >= fewestForDispersion;
  const variance = (squares[name] - count * mean) / (years - 1);
  return {
    count,
    perYear: mean,
    ...estimatedRate(count, years, confidence),
    dispersion: enough ? variance / mean : null,
  };
}

function spreadOf({ delays, leastDelayMs, worstDelayMs }: Tally): DelaySpread {
  const bins = binsInOrder(delays);
  return {
    count: bins.reduce((sum, [, count]) => sum + count, 0),
    leastMs: leastDelayMs,
    worstMs: worstDelayMs,
    percentiles: percents.map((percent) => {
      const ms = delayPercentile(delays, percent / 100);
      // A bin may reach beyond the longest delay in it.
      return { percent, ms: ms === null ? null : Math.min(ms, worstDelayMs ?? ms) };
    }),
    histogram: bins.map(([bin, count]) => ({ ...binSpan(bin), count })),
  };
}

/** What a wanted precision is of: the rate of an event, or the share of the leave-opens missed. */
export const precisionNames = ['missed-share', ...eventNames] as const;
export type PrecisionName = (typeof precisionNames)[number];

/** Half the width of the interval over the estimate; infinite while nothing was seen. */
export function relativePrecision(tally: Tally, of: PrecisionName, confidence: number): number {
  const estimate = estimateOf(tally, confidence);
  const known = of === 'missed-share' ? estimate.shares.missed : estimate.rates[of];
  if (known.count === 0) return Number.POSITIVE_INFINITY;
  const value = 'perYear' in known ? known.perYear : (known.share ?? 0);
  return (known.high - known.low) / 2 / value;
}
