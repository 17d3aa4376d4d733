// How far another sample of the same door would have led to another profile: the log's days are drawn again with
// replacement (a bootstrap of blocks of one day), and each such log is fitted. What differs is kept as factors on the
// profile, so that they still apply after somebody has edited it.
import { itemAt, type RandomStream, randomStream, trueMs } from '../../base/index.js';
import { spansOf } from '../../world/index.js';
import type {
  CountDistribution,
  DurationDistribution,
  LeaveOpenHabit,
  LoggedDay,
  UsageProfile,
} from '../types.js';
import { type FittedProcess, gapDistribution, type LoggedDoor, meanOf } from './fit-process.js';
import { fitVisits, gapsOf } from './fit-visits.js';
import { hourSpans } from './hour-spans.js';
import { exponential, logarithm } from './portable-math.js';
import { drawExponential, longestDrawnMs, type Normals, normalsFrom } from './visit-draws.js';

const dayMs = 86_400_000;

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
/** Openings that all resamples together may be fitted to. */
const mostFitted = 400_000;
/** Rounds of each fit: it begins where the log's own ended. */
const rounds = 12;
/** With fewer days the days alone show too little of what chance does. */
const fewDays = 7;

interface Sampled {
  readonly door: LoggedDoor;
  readonly days: readonly LoggedDay[];
  readonly leaveOpenAfterMs: number;
  readonly process: FittedProcess;
  readonly habits: UsageProfile;
}

export function resamplesOf(sampled: Sampled): readonly (readonly number[])[] {
  const { door, days } = sampled;
  const count = door.openings.fromMs.length;
  const many = Math.floor(mostFitted / Math.max(1, count));
  const rows = Math.max(fewestResamples, Math.min(usualResamples, many));
  const base = measured(sampled, days);
  return Array.from({ length: rows }, (_, row) => {
    const stream = randomStream('resampled days', row);
    const drawn = days.map(() => itemAt(days, stream.whole(0, days.length - 1)));
    const chance = days.length < fewDays ? byChance(count, stream) : 1;
    const here = measured(sampled, drawn);
    return here.map((value, index) => {
      const usual = base[index] ?? null;
      const factor = value === null || usual === null || usual <= 0 ? 1 : value / usual;
      const bounded = Math.min(20, Math.max(0, index === 0 ? factor * chance : factor));
      return Number(bounded.toFixed(3));
    });
  });
}

/** A factor on a rate that so few openings leave open: gamma, with their number as its shape. */
function byChance(count: number, stream: RandomStream): number {
  const shape = Math.min(count, 1_000);
  let sum = 0;
  for (let index = 0; index < shape; index += 1) sum += drawExponential(stream);
  return sum / shape;
}

/** What the factors are of, for a log of these days, one after the other; null: it does not show this. */
function measured(
  { process, leaveOpenAfterMs }: Sampled,
  days: readonly LoggedDay[],
): readonly (number | null)[] {
  const pairs: [number, number][] = [];
  let shutAtMs = -1;
  days.forEach(({ openings }, day) => {
    for (const { atMs, forMs } of openings) {
      const fromMs = day * dayMs + atMs;
      if (fromMs <= shutAtMs) continue;
      shutAtMs = fromMs + forMs;
      pairs.push([fromMs, shutAtMs]);
    }
  });
  const lengths = pairs.map(([fromMs, toMs]) => toMs - fromMs);
  const brief = logMoments(lengths.filter((ms) => ms < leaveOpenAfterMs));
  const long = lengths.filter((ms) => ms >= leaveOpenAfterMs);
  const left = logMoments(long);
  const share = lengths.length === 0 ? null : long.length / lengths.length;
  return [...visitsIn(process, pairs, days), ...brief, share, ...left];
}

function visitsIn(
  { fit, how }: FittedProcess,
  pairs: readonly [number, number][],
  days: readonly LoggedDay[],
): readonly (number | null)[] {
  const perDay = pairs.length / Math.max(1, days.length);
  if (fit === null || how.model !== 'visits' || pairs.length < 2) return [perDay, null, null, null];
  // A day after the other, all as if on weekdays: what is compared is the whole, not its hours.
  const lengthMs = days.length * dayMs;
  const weekdays = hourSpans({ epochMs: 0, timeZone: 'UTC' }, lengthMs);
  const spans = { toMs: weekdays.toMs, kind: weekdays.kind.map((kind) => kind % 24) };
  const again = fitVisits(gapsOf(spansOf(pairs), spans, lengthMs), fit.shape.kind, fit, rounds);
  const mean = meanOf(again);
  const gap = gapDistribution(again.shape);
  const median =
    gap.kind === 'exponential' ? gap.meanMs : gap.kind === 'lognormal' ? gap.medianMs : 1;
  return [perDay / mean, mean, median, gap.kind === 'lognormal' ? gap.sigma : null];
}

/** Mean and standard deviation of the logarithms, the mean as a median. */
function logMoments(lengths: readonly number[]): readonly [number | null, number | null] {
  if (lengths.length === 0) return [null, null];
  const logs = lengths.map(logarithm);
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
    return { ...profile, days: days.map(() => itemAt(days, stream.whole(0, days.length - 1))) };
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

/**
 * Of few leave-opens resampled days show too little: no tail that none of them had. So their number is drawn from a gamma
 * distribution, and their lengths from what a lognormal leaves open after so few (its posterior: chi-squared for sigma,
 * normal for the median).
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
  const count = profile.fitted?.leaveOpens ?? enoughLeaveOpens;
  if (count >= enoughLeaveOpens || count === 0) {
    const sigma = factor('leaveOpenSigma');
    return {
      share: Math.min(1, share * factor('leaveOpenShare')),
      duration: scaled(duration, factor('leaveOpenMedian'), { sigma, stream }),
    };
  }
  const normals = normalsFrom(stream);
  const square = (): number => normals.next() ** 2;
  // Half a chi-squared of 2n + 1 degrees is a gamma of shape n + 1/2.
  let gamma = square() / 2;
  for (let index = 0; index < count; index += 1) gamma += drawExponential(stream);
  let chiSquared = 0;
  for (let index = 1; index < count; index += 1) chiSquared += square();
  const wider = count < 2 ? 1 : Math.min(4, Math.sqrt((count - 1) / Math.max(0.1, chiSquared)));
  const level = normals.next() / Math.sqrt(count);
  return {
    share: Math.min(1, (share * gamma) / count),
    duration: widened(duration, { wider, level, normals, stream }),
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
