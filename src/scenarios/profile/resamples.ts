// How far another sample of the same door would have led to another profile: the log's days are drawn again with
// replacement (a bootstrap of blocks of one day), and each such log is fitted. What differs is kept as factors on the
// profile, so that they still apply after somebody has edited it.
import {
  cellAt,
  dayMs,
  greatestOf,
  itemAt,
  leastOf,
  type RandomStream,
  randomStream,
  trueMs,
} from '../../base/index.js';
import { mostResampledOpenings, mostResampleOpenings } from '../../model/index.js';
import type { Spans } from '../../world/index.js';
import type {
  CountDistribution,
  DurationDistribution,
  FittedTo,
  LeaveOpenHabit,
  LoggedDay,
  UsageProfile,
} from '../types.js';
import { type FittedProcess, gapDistribution, type LoggedDoor, meanOf } from './fit-process.js';
import { fitVisits, gapsOf } from './fit-visits.js';
import { hourSpans } from './hour-spans.js';
import { exponential, logarithm } from './portable-math.js';
import { drawExponential, longestDrawnMs, type Normals, normalsFrom } from './visit-draws.js';

/** What a row of a profile's resamples holds, in this order: factors on what the profile says. */
export const resampledFactors = [
  'visits',
  'openings',
  'gapMedian',
  'gapSigma',
  'lengthMedian',
  'lengthSigma',
  'leaveOpenShare',
  'leaveOpenMedian',
  'leaveOpenSigma',
] as const;

const usualResamples = 40;
const fewestResamples = 10;
const fewestDrawnDays = 2;
/** Rounds of each fit: it begins where the log's own ended. */
const rounds = 12;
/** With fewer days the days alone show too little of what chance does. */
const fewDays = 7;

interface Sampled {
  readonly door: LoggedDoor;
  readonly days: readonly LoggedDay[];
  /** As many independent leave-opens as those of the log are worth. */
  readonly apart: number;
  readonly leaveOpenAfterMs: number;
  readonly process: FittedProcess;
  readonly habits: UsageProfile;
}

export function resamplesOf(sampled: Sampled): readonly (readonly number[])[] {
  const { door, days, apart: clusters } = sampled;
  const count = door.openings.fromMs.length;
  const many = Math.min(
    days.length,
    Math.floor((mostResampleOpenings / Math.max(1, count)) * days.length),
  );
  const drawnDays = Math.max(Math.min(fewestDrawnDays, days.length), many);
  const fitted = Math.max(1, (count * drawnDays) / Math.max(1, days.length));
  const affordable = Math.floor(mostResampledOpenings / fitted);
  const rows = Math.max(fewestResamples, Math.min(usualResamples, affordable));
  const isWhole = drawnDays === days.length;
  const scale = Math.sqrt(drawnDays / Math.max(1, days.length)) * widening(days.length);
  const streams = Array.from({ length: rows }, (_, row) => randomStream('resampled days', row));
  const values = streams.map((stream) =>
    measured(
      sampled,
      Array.from({ length: drawnDays }, () => itemAt(days, stream.whole(0, days.length - 1))),
    ),
  );
  const base = isWhole ? measured(sampled, days) : meanOfEach(values);
  return values.map((here, row) => {
    const stream = itemAt(streams, row);
    const chance = days.length < fewDays ? byChance(count, stream) : 1;
    const left = clusters < enoughLeaveOpens ? byChance(clusters, stream) : null;
    return here.map((value, index) => {
      const usual = base[index] ?? null;
      const isKnown = value !== null && usual !== null && usual > 0;
      // By how much a sample falls short, the door may exceed what is fitted to it (the basic bootstrap, of logarithms):
      // rates of few events have their long tail above, and samples of them below.
      const factor = isKnown ? exponential(-scale * logarithm(Math.max(0.1, value / usual))) : 1;
      const own = { [visitsAt]: factor * chance, [leaveOpensAt]: left ?? factor }[index] ?? factor;
      return Number(Math.min(20, Math.max(0, own)).toFixed(3));
    });
  });
}

const visitsAt = 0;
const leaveOpensAt = resampledFactors.indexOf('leaveOpenShare');

/**
 * Days drawn again vary less than new ones: by (n − 1) / n in variance, and few of them do not show how much days vary
 * (Student's t over the normal quantile is about 1 + 1.3 / (n − 1) at 95 %).
 */
function widening(days: number): number {
  const others = Math.max(1, days - 1);
  return Math.sqrt((others + 1) / others) * (1 + 1.3 / others);
}

/** As many independent leave-opens as their numbers by the day are worth: fewer where they come several a day. */
export function leaveOpensApart(days: readonly LoggedDay[], leaveOpenAfterMs: number): number {
  let [sum, squares] = [0, 0];
  for (const { openings } of days) {
    const count = openings.filter(({ forMs }) => forMs >= leaveOpenAfterMs).length;
    sum += count;
    squares += count * count;
  }
  return squares === 0 ? 0 : (sum * sum) / squares;
}

/** Of each column, without what is not known. */
function meanOfEach(rows: readonly (readonly (number | null)[])[]): readonly (number | null)[] {
  return resampledFactors.map((_, column) => {
    const known = rows.map((row) => row[column] ?? null).filter((value) => value !== null);
    return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
  });
}

/**
 * A factor on a rate of which so few were seen: gamma, with their number and a half as its shape (Jeffreys's prior), so
 * that it is more than 1 on average.
 */
function byChance(count: number, stream: RandomStream): number {
  const whole = Math.min(Math.floor(count), 1_000);
  // Half a chi-squared of 2n + 1 degrees is a gamma of shape n + 1/2.
  let sum = normalsFrom(stream).next() ** 2 / 2;
  for (let index = 0; index < whole; index += 1) sum += drawExponential(stream);
  return sum / Math.max(1, whole);
}

/** What the factors are of, for a log of these days, one after the other; null: it does not show this. */
function measured(
  { process, leaveOpenAfterMs }: Sampled,
  days: readonly LoggedDay[],
): readonly (number | null)[] {
  const most = days.reduce((sum, { openings }) => sum + openings.length, 0);
  const [froms, tos] = [new Float64Array(most), new Float64Array(most)];
  let count = 0;
  let shutAtMs = -1;
  days.forEach(({ openings }, day) => {
    for (const { atMs, forMs } of openings) {
      const fromMs = day * dayMs + atMs;
      if (fromMs <= shutAtMs) continue;
      shutAtMs = fromMs + forMs;
      froms[count] = fromMs;
      tos[count] = shutAtMs;
      count += 1;
    }
  });
  const openings = { fromMs: froms.subarray(0, count), toMs: tos.subarray(0, count) };
  const lengths = openings.toMs.map((toMs, index) => toMs - cellAt(openings.fromMs, index));
  const brief = logMoments(lengths.filter((ms) => ms < leaveOpenAfterMs));
  const long = lengths.filter((ms) => ms >= leaveOpenAfterMs);
  const left = logMoments(long);
  const share = lengths.length === 0 ? null : long.length / lengths.length;
  return [...visitsIn(process, openings, days.length), ...brief, share, ...left];
}

function visitsIn(
  { fit, how }: FittedProcess,
  openings: Spans,
  days: number,
): readonly (number | null)[] {
  const perDay = openings.fromMs.length / Math.max(1, days);
  if (fit === null || how.model !== 'visits' || openings.fromMs.length < 2)
    return [perDay, null, null, null];
  // A day after the other, all as if on weekdays: what is compared is the whole, not its hours.
  const lengthMs = days * dayMs;
  const weekdays = hourSpans({ epochMs: 0, timeZone: 'UTC' }, lengthMs);
  const spans = { toMs: weekdays.toMs, kind: weekdays.kind.map((kind) => kind % 24) };
  const again = fitVisits(gapsOf(openings, spans, lengthMs), fit.shape.kind, fit, rounds);
  const mean = meanOf(again);
  const gap = gapDistribution(again.shape);
  return gap.kind === 'exponential'
    ? [perDay / mean, mean, gap.meanMs, null]
    : [perDay / mean, mean, gap.medianMs, gap.sigma];
}

/** Mean and standard deviation of the logarithms, the mean as a median. */
function logMoments(
  lengths: readonly number[] | Float64Array,
): readonly [number | null, number | null] {
  if (lengths.length === 0) return [null, null];
  const logs = Float64Array.from(lengths, logarithm);
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0);
  const sigma = Math.sqrt(squares / Math.max(1, logs.length - 1));
  return [exponential(mean), logs.length < 2 ? null : sigma];
}

/** How many profiles a profile and its doubt are: 1 without any. */
export function resampleCount({ days, fitted }: UsageProfile): number {
  if (days !== undefined) return usualResamples;
  return fitted?.resamples.length ?? 0;
}

/** The profile that resample `row` of a log would have led to. */
export function resampled(profile: UsageProfile, row: number): UsageProfile {
  const stream = randomStream('resampled profile', row);
  const { days, visits, leaveOpen } = profile;
  if (days !== undefined) {
    const drawn = days.map(() => itemAt(days, stream.whole(0, days.length - 1)));
    return { ...profile, days: withLeaveOpens(drawn, { profile, logged: days, row, stream }) };
  }
  const row9 = profile.fitted?.resamples[row] ?? [];
  const factor = (name: (typeof resampledFactors)[number]): number =>
    row9[resampledFactors.indexOf(name)] ?? 1;
  const once: UsageProfile = {
    ...profile,
    openingsPerHour: profile.openingsPerHour.map((rate) => rate * factor('visits')),
    duration: scaled(profile.duration, factor('lengthMedian'), {
      sigma: factor('lengthSigma'),
      stream,
    }),
    leaveOpen: leaveOpen === null ? null : resampledLeaveOpens(profile, leaveOpen, row),
  };
  if (visits === undefined) return once;
  const openings = timesCount(visits.openings, factor('openings'));
  const gap = scaled(visits.gap, factor('gapMedian'), { sigma: factor('gapSigma'), stream });
  return { ...once, visits: { ...visits, openings, gap } };
}

/** Of few leave-opens in logged days the lengths are drawn as they are in a fitted profile. */
function withLeaveOpens(
  days: readonly LoggedDay[],
  {
    profile,
    logged,
    row,
    stream,
  }: {
    readonly profile: UsageProfile;
    readonly logged: readonly LoggedDay[];
    readonly row: number;
    readonly stream: RandomStream;
  },
): readonly LoggedDay[] {
  const { leaveOpens = 0, leaveOpenAfterMs } = profile.fitted ?? {};
  if (leaveOpenAfterMs === undefined || leaveOpens >= enoughLeaveOpens) return days;
  const isLeft = ({ forMs }: LoggedDay['openings'][number]): boolean => forMs >= leaveOpenAfterMs;
  const ms = logged.flatMap(({ openings }) =>
    openings.filter(isLeft).map(({ forMs }) => trueMs(forMs)),
  );
  if (ms.length === 0) return days;
  const { duration } = resampledLeaveOpens(
    profile,
    { share: 1, duration: { kind: 'drawn', ms } },
    row,
  );
  if (duration.kind !== 'drawn') return days;
  const other = (): number => itemAt(duration.ms, stream.whole(0, duration.ms.length - 1));
  return days.map(({ weekend, openings }) => ({
    weekend,
    openings: openings.map((one) => (isLeft(one) ? { ...one, forMs: other() } : one)),
  }));
}

function timesCount(openings: CountDistribution, factor: number): CountDistribution {
  switch (openings.kind) {
    case 'geometric':
    case 'poisson':
      return { kind: openings.kind, mean: Math.max(1, openings.mean * factor) };
    case 'fixed':
    case 'drawn':
      return openings;
  }
}

/** A list of what was logged is drawn again with replacement: it knows its own doubt. */
function scaled(
  distribution: DurationDistribution,
  median: number,
  { sigma, stream }: { readonly sigma: number; readonly stream: RandomStream },
): DurationDistribution {
  const times = (ms: number) => trueMs(Math.max(1, Math.round(ms * median)));
  switch (distribution.kind) {
    case 'fixed':
      return { kind: 'fixed', ms: times(distribution.ms) };
    case 'exponential':
      return { kind: 'exponential', meanMs: times(distribution.meanMs) };
    case 'lognormal':
      return {
        kind: 'lognormal',
        medianMs: times(distribution.medianMs),
        sigma: Math.min(5, distribution.sigma * sigma),
      };
    case 'drawn': {
      const { ms } = distribution;
      return { kind: 'drawn', ms: ms.map(() => itemAt(ms, stream.whole(0, ms.length - 1))) };
    }
  }
}

/** From here on there are enough leave-opens for the resampled days to show how they differ. */
const enoughLeaveOpens = 30;
/** How much a leave-open differs from others where fewer than five were seen: sigma of a lognormal. */
const usualSigma = 1;
const fewestForSigma = 5;
/** Lengths of a distribution, as a list. */
const listed = 64;
/** The heaviest tail: 1 over the exponent of the Pareto distribution; and how far beyond the longest in the log it reaches. */
const heaviest = 1.2;
const timesLongest = 10;

/** Kinds of what leave-opens last, one resample after the other. */
const families = ['bootstrap', 'exponential', 'pareto'] as const;

/**
 * Of few leave-opens resampled days show too little: no tail that none of them had, and none just long enough. So a third of
 * the resamples draws their lengths from a smoothed bootstrap, a third takes what they last beyond `leaveOpenAfter` as
 * exponential, and a third their lengths as Pareto from there on, each with a mean that so few leave open (its posterior
 * with Jeffreys's prior): what is not known of the shape is a doubt like any other.
 */
function resampledLeaveOpens(
  profile: UsageProfile,
  { share, duration }: LeaveOpenHabit,
  row: number,
): LeaveOpenHabit {
  const factors = profile.fitted?.resamples[row] ?? [];
  const factor = (name: (typeof resampledFactors)[number]): number =>
    factors[resampledFactors.indexOf(name)] ?? 1;
  const stream = randomStream('resampled leave-opens', row);
  const { leaveOpens = enoughLeaveOpens, leaveOpensApart: apart = leaveOpens } =
    profile.fitted ?? {};
  const count = leaveOpens === 0 ? 0 : Math.max(1, Math.round(apart));
  const often = Math.min(1, share * factor('leaveOpenShare'));
  if (count >= enoughLeaveOpens || count === 0) {
    const sigma = factor('leaveOpenSigma');
    return {
      share: often,
      duration: scaled(duration, factor('leaveOpenMedian'), { sigma, stream }),
    };
  }
  const family = row % families.length;
  if (family > 0 && duration.kind === 'drawn') {
    const isHeavy = families[family] === 'pareto';
    const of = { count, fitted: profile.fitted, isHeavy, stream };
    return { share: often, duration: beyondThreshold(duration.ms, of) };
  }
  const normals = normalsFrom(stream);
  let chiSquared = 0;
  for (let index = 1; index < count; index += 1) chiSquared += normals.next() ** 2;
  const wider = count < 2 ? 1 : Math.min(4, Math.sqrt((count - 1) / Math.max(0.1, chiSquared)));
  const level = normals.next() / Math.sqrt(count);
  return { share: often, duration: widened(duration, { wider, level, normals, stream }) };
}

function beyondThreshold(
  lengths: readonly number[],
  {
    count,
    fitted,
    isHeavy,
    stream,
  }: {
    readonly count: number;
    readonly fitted: FittedTo | undefined;
    readonly isHeavy: boolean;
    readonly stream: RandomStream;
  },
): DurationDistribution {
  const fromMs = Math.max(
    1,
    Math.min(fitted?.leaveOpenAfterMs ?? longestDrawnMs, leastOf(lengths)),
  );
  const longestMs = Math.min(longestDrawnMs, timesLongest * greatestOf(lengths));
  const beyond = lengths.map((ms) => (isHeavy ? logarithm(ms / fromMs) : ms - fromMs));
  let gamma = 0;
  for (let index = 0; index < count; index += 1) gamma += drawExponential(stream) / count;
  const likely = beyond.reduce((sum, one) => sum + one, 0) / beyond.length / Math.max(0.01, gamma);
  const mean = isHeavy ? Math.min(heaviest, likely) : likely;
  return {
    kind: 'drawn',
    ms: Array.from({ length: listed }, (_, index) => {
      const more = -mean * logarithm(1 - (index + 0.5) / listed);
      const ms = isHeavy ? fromMs * exponential(Math.min(50, more)) : fromMs + more;
      return trueMs(Math.max(1, Math.round(Math.min(longestMs, ms))));
    }),
  };
}

function widened(
  duration: DurationDistribution,
  {
    wider,
    level,
    normals,
    stream,
  }: {
    readonly wider: number;
    readonly level: number;
    readonly normals: Normals;
    readonly stream: RandomStream;
  },
): DurationDistribution {
  const times = (ms: number, exponent: number) =>
    trueMs(Math.max(1, Math.round(Math.min(longestDrawnMs, ms * exponential(exponent)))));
  switch (duration.kind) {
    case 'fixed':
      return { kind: 'fixed', ms: times(duration.ms, level) };
    case 'exponential':
      return { kind: 'exponential', meanMs: times(duration.meanMs, level) };
    case 'lognormal': {
      const sigma = Math.min(5, duration.sigma * wider);
      return { kind: 'lognormal', medianMs: times(duration.medianMs, sigma * level), sigma };
    }
    case 'drawn': {
      // The bootstrap of so few, smoothed: each length is spread by a part of what they differ by.
      const { ms } = duration;
      const sigma = ms.length < fewestForSigma ? usualSigma : (logMoments(ms)[1] ?? usualSigma);
      const spread = sigma * ms.length ** -0.2;
      return {
        kind: 'drawn',
        ms: ms.map(() =>
          times(
            itemAt(ms, stream.whole(0, ms.length - 1)),
            0.5 * (wider * spread * normals.next() + sigma * level),
          ),
        ),
      };
    }
  }
}
