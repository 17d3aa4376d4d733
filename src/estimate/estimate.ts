// From counts to rates per year and shares, each with its interval, and the spread of the delays.
import { binSpan, binsInOrder, delayPercentile } from './delays.js';
import { delayRange, leaveOpensSpread, rateSpread, type Spread, shareSpread } from './doubt.js';
import { type Estimated, effectiveShare, estimatedShare, studentOverNormal } from './intervals.js';
import { type EventName, eventNames, type Tally } from './tally.js';
import { weightedRate } from './weighted.js';

/** How often something happens in a year. */
export interface Rate extends Estimated {
  readonly count: number;
  readonly perYear: number;
  /**
   * Variance of the years' counts over their mean: 1 for events that come one by one, more for bursts, which widen the
   * interval. Null: too little was seen.
   */
  readonly dispersion: number | null;
  /** How far the rate varies between the resamples of the log that the profile was fitted to, as a part of it; null: no log. */
  readonly profileSpread: number | null;
}

/** How many of the leave-opens. */
export interface Share extends Estimated {
  readonly count: number;
  readonly of: number;
  /** Null: of nothing. */
  readonly share: number | null;
}

/** A delay that a share of all do not exceed, with its interval; null: of no delays, or beyond all that were seen. */
export interface DelayPercentile {
  readonly percent: number;
  readonly ms: number | null;
  readonly lowMs: number | null;
  readonly highMs: number | null;
}

export interface DelaySpread {
  readonly count: number;
  readonly leastMs: number | null;
  readonly worstMs: number | null;
  readonly percentiles: readonly DelayPercentile[];
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
  /** How many leave-opens per year that may be. */
  readonly leaveOpens: Estimated;
  readonly rates: Readonly<Record<EventName, Rate>>;
  /** Of the missed leave-opens, those of which an alert was delivered, each of which was then lost. Absent: none. */
  readonly missedByLoss?: number;
  /** Of the leave-opens that were decided: those still open at the end of a year, with time left, are not. */
  readonly shares: Readonly<Record<'missed' | 'late', Share>>;
  readonly delays: DelaySpread;
}

const percents = [5, 25, 50, 75, 90, 95, 99, 99.9];

/** Fewer events than this say nothing of how they come. */
const fewestForDispersion = 10;

/**
 * @param tally of at least one year.
 * @param resamples years of profiles that other samples of the log would have led to; empty: no doubt of the profile.
 */
export function estimateOf(
  tally: Tally,
  confidence: number,
  resamples: readonly Tally[] = [],
): Estimate {
  const { years, counts, missedByLoss } = tally;
  const seen = { tally, confidence, resamples };
  const rate = (name: EventName): Rate => rateOf(seen, name);
  return {
    years,
    confidence,
    openingsPerYear: counts.openings / years,
    leaveOpensPerYear: counts.leaveOpens / years,
    leaveOpens: leaveOpensOf(seen),
    rates: {
      missed: rate('missed'),
      late: rate('late'),
      falseAlarms: rate('falseAlarms'),
      earlyAlerts: rate('earlyAlerts'),
      repeats: rate('repeats'),
    },
    ...(missedByLoss === 0 ? {} : { missedByLoss }),
    shares: { missed: shareOf(seen, 'missed'), late: shareOf(seen, 'late') },
    delays: spreadOf(seen),
  };
}

interface Seen {
  readonly tally: Tally;
  readonly confidence: number;
  readonly resamples: readonly Tally[];
}

const singleYears = 4;
/** The fewest trials that an interval of a share is that of. */
const fewestTrials = 2;

/** Of a sum, from how the years differ; bursts show in it. At least that of single events. */
function countVariance(count: number, squares: number, years: number): number {
  if (years < 2) return count;
  const spread = ((squares - count ** 2 / years) * years) / (years - 1);
  // Of very few years it is hardly known: as if some more had varied like single events.
  const weight = (years - 1) / (years - 1 + singleYears);
  return Math.max(count, count + (spread - count) * weight);
}

function rateOf({ tally, confidence, resamples }: Seen, name: EventName): Rate {
  const { years, counts, squares } = tally;
  const count = counts[name];
  const mean = count / years;
  const enough = years > 1 && count >= fewestForDispersion;
  const dispersion = enough ? (squares[name] - count * mean) / (years - 1) / mean : null;
  const spread = rateSpread(resamples, name);
  const sums = { count, years, variance: countVariance(count, squares[name], years) };
  const known = knownRate(sums, spread, confidence);
  return { count, perYear: mean, ...known, dispersion, profileSpread: spread?.relative ?? null };
}

/** Those that are undecided at the end of a year are so few that the squares may lack them. */
function leaveOpensOf({ tally, confidence, resamples }: Seen): Estimated {
  const { years, counts, decided } = tally;
  const count = counts.leaveOpens;
  const variance = countVariance(count, decided.squares, years);
  return knownRate({ count, years, variance }, leaveOpensSpread(resamples), confidence);
}

interface Sums {
  readonly count: number;
  readonly years: number;
  readonly variance: number;
}

function knownRate(
  { count, years, variance }: Sums,
  spread: Spread | null,
  confidence: number,
): Estimated {
  // Of few years their own differences are known only roughly.
  const rough = studentOverNormal(years - 1 + singleYears, confidence);
  const bursts = variance > count ? variance * rough ** 2 : variance;
  const doubt = ((spread?.relative ?? 0) * count) ** 2;
  const known = weightedRate({ sum: count, variance: bursts + doubt, one: 1 }, years, confidence);
  if (spread === null || spread.mean === 0) return known;
  // The resamples may lie beside the profile itself: where few leave-opens were logged, they know of others.
  const sum = spread.mean * years;
  const clustered = count === 0 ? sum : (sum * bursts) / count;
  const wide = { sum, variance: clustered + (spread.relative * sum) ** 2, one: 1 };
  const others = weightedRate(wide, years, confidence);
  return {
    ...known,
    low: Math.min(known.low, others.low),
    high: Math.max(known.high, others.high),
  };
}

/**
 * Exact for leave-opens that are missed one by one. Where some years miss more of theirs than others, the interval is
 * that of fewer leave-opens: as many as would vary as much (the design effect of clusters; Kish, Survey Sampling, 1965).
 */
function shareOf(seen: Seen, name: 'missed' | 'late'): Share {
  const { tally, confidence, resamples } = seen;
  const { counts } = tally;
  const [count, of] = [counts[name], counts.leaveOpens - counts.undecided];
  const share = of === 0 ? null : count / of;
  if (share === null || count === 0 || count === of) {
    const known = estimatedShare(count, of, confidence);
    return { count, of, share, ...widerAtEnd(known, resamples, name) };
  }
  const spread = shareSpread(resamples, name);
  const single = (share * (1 - share)) / of;
  const years = Math.max(single, ratioVariance(tally, name, share));
  const doubt = (spread?.relative ?? 0) ** 2;
  const known = shareWithin(share, years + doubt * share ** 2, confidence);
  const others =
    spread === null || spread.mean <= 0 || spread.mean >= 1
      ? known
      : shareWithin(spread.mean, years + doubt * spread.mean ** 2, confidence);
  const [low, high] = [Math.min(known.low, others.low), Math.max(known.high, others.high)];
  return { count, of, share, kind: 'interval', low, high };
}

/** The interval of as many trials as would vary as much. */
function shareWithin(share: number, variance: number, confidence: number) {
  const effective = Math.max(fewestTrials, (share * (1 - share)) / variance);
  return effectiveShare(share * effective, effective, confidence);
}

/** None or all were missed: the resamples may still know of others. */
function widerAtEnd(
  known: Estimated,
  resamples: readonly Tally[],
  name: 'missed' | 'late',
): Estimated {
  const spread = shareSpread(resamples, name);
  if (spread === null) return known;
  const reach = 2 * spread.relative * spread.mean;
  const [low, high] = [Math.max(0, spread.mean - reach), Math.min(1, spread.mean + reach)];
  if (known.kind === 'at-most') return { ...known, high: Math.max(known.high, high) };
  return { ...known, low: Math.min(known.low, low) };
}

/** Of a share whose numerator and denominator vary from year to year. */
function ratioVariance(
  { years, counts, squares, decided }: Tally,
  name: 'missed' | 'late',
  share: number,
): number {
  const of = counts.leaveOpens - counts.undecided;
  if (years < 2 || of === 0) return 0;
  const residual = squares[name] - 2 * share * decided[name] + share ** 2 * decided.squares;
  return ((years / (years - 1)) * Math.max(0, residual)) / of ** 2;
}

function spreadOf(seen: Seen): DelaySpread {
  const { delays, leastDelayMs, worstDelayMs } = seen.tally;
  const bins = binsInOrder(delays);
  const count = bins.reduce((sum, [, many]) => sum + many, 0);
  return {
    count,
    leastMs: leastDelayMs,
    worstMs: worstDelayMs,
    percentiles: percents.map((percent) => {
      const share = percent / 100;
      const found = delayPercentile(delays, share);
      // A bin may reach beyond the longest delay in it.
      const ms = found === null ? null : Math.min(found, worstDelayMs ?? found);
      return { percent, ms, ...delayInterval(seen, { share, ms, count }) };
    }),
    histogram: bins.map(([bin, many]) => ({ ...binSpan(bin), count: many })),
  };
}

/** From order statistics: the delays at the ends of the interval of the share; wider by what the resamples differ. */
function delayInterval(
  { tally, confidence, resamples }: Seen,
  {
    share,
    ms,
    count,
  }: { readonly share: number; readonly ms: number | null; readonly count: number },
) {
  if (ms === null) return { lowMs: null, highMs: null };
  const { low, high } = effectiveShare(share * count, count, confidence);
  const least = tally.leastDelayMs ?? 0;
  const lowMs = low * count < 1 ? least : (delayPercentile(tally.delays, low) ?? least);
  const isBeyond = high > 1 - 1 / (count + 1);
  const range = delayRange(resamples, share, confidence);
  const ends = [Math.min(ms, lowMs), delayPercentile(tally.delays, high) ?? ms] as const;
  return {
    lowMs: Math.floor(Math.min(ends[0], range?.leastMs ?? ms)),
    highMs: isBeyond ? null : Math.ceil(Math.max(ends[1], range?.mostMs ?? ms)),
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
