// A year of a door's use, drawn for estimates of many thousand years. The same habits as `generateDoor` draws from,
// but one stream a year and not one an opening: nobody shrinks these years, and they cost a thirtieth.
import {
  cellAt,
  InvariantError,
  invariant,
  type RandomStream,
  randomStream,
} from '../../base/index.js';
import type { Spans } from '../../world/index.js';
import type { DurationDistribution, UsageProfile } from '../types.js';
import { quickExponential, quickLogarithm } from './quick-math.js';

const hourMs = 3_600_000;
const hoursAWeek = 168;
/** A device-year has 365 days of 24 hours. */
export const hoursAYear = 8_760;
export const yearMs = hoursAYear * hourMs;

/** A month, as for every draw from a profile. */
const longestMs = 30 * 86_400_000;
const mostTries = 1_000;

/** Draws the openings of the year with this number; one that outlasts the year is endless. */
export type YearDoors = (seed: string, year: number) => Spans;

/** How many openings to expect in a year, before those that find the door open already. */
export function openingsAYear(profile: UsageProfile): number {
  const means = meansOfWeek(profile);
  const week = means.reduce((sum, mean) => sum + mean, 0);
  return (week * hoursAYear) / hoursAWeek;
}

/** Openings to expect in each hour of a week, from Monday midnight on. */
function meansOfWeek(profile: UsageProfile): Float64Array {
  return Float64Array.from({ length: hoursAWeek }, (_, hour) => {
    const factor = hour < 120 ? profile.weekdayFactor : profile.weekendFactor;
    return (profile.openingsPerHour[hour % 24] ?? 0) * factor;
  });
}

/**
 * Openings are a Poisson process whose rate changes by the hour: gaps are exponential in expected openings, and the
 * hours say when so many are reached. The year with number n begins on weekday n mod 7, so that none is favoured.
 * Whoever comes while the door is open walks through it.
 */
export function yearDoors(profile: UsageProfile): YearDoors {
  const means = meansOfWeek(profile);
  const { leaveOpen } = profile;
  const share = leaveOpen?.share ?? 0;
  const brief = drawer(profile.duration);
  const long = leaveOpen === null ? brief : drawer(leaveOpen.duration);
  const expected = openingsAYear(profile);
  // Written over by each year: no year has more openings than ten standard deviations over what to expect.
  const from = new Float64Array(Math.ceil(expected + 10 * Math.sqrt(expected) + 100));
  const to = new Float64Array(from.length);
  return (seed, year) => {
    const stream = randomStream(seed, 'door of a year', year);
    const firstHour = (year % 7) * 24;
    let count = 0;
    let shutAtMs = -1;
    let reached = drawExponential(stream);
    for (let hour = 0; hour < hoursAYear; hour += 1) {
      const mean = cellAt(means, (firstHour + hour) % hoursAWeek);
      while (reached < mean) {
        const fromMs = hour * hourMs + Math.min(hourMs - 1, Math.floor((reached / mean) * hourMs));
        reached += drawExponential(stream);
        const draw = stream.unit() < share ? long : brief;
        const toMs = fromMs + draw(stream);
        if (fromMs <= shutAtMs) continue;
        shutAtMs = toMs;
        from[count] = fromMs;
        to[count] = toMs > yearMs ? Number.POSITIVE_INFINITY : toMs;
        count += 1;
      }
      reached -= mean;
    }
    invariant(count <= from.length, 'there is room for all openings of a year', { count });
    return { fromMs: from.slice(0, count), toMs: to.slice(0, count) };
  };
}

function drawer(distribution: DurationDistribution): (stream: RandomStream) => number {
  const whole = (ms: number): number => Math.min(longestMs, Math.max(1, Math.round(ms)));
  switch (distribution.kind) {
    case 'fixed':
      return () => distribution.ms;
    case 'exponential':
      return (stream) => whole(distribution.meanMs * drawExponential(stream));
    case 'lognormal': {
      const { medianMs, sigma } = distribution;
      return (stream) => {
        const exponent = Math.min(40, Math.max(-40, sigma * drawNormal(stream)));
        return whole(medianMs * quickExponential(exponent));
      };
    }
  }
}

/** Exponential with mean 1, never below 0. */
export function drawExponential(stream: RandomStream): number {
  // The logarithm of 1 comes out as a hair over 0.
  return Math.max(0, -quickLogarithm(1 - stream.unit()));
}

/** Standard normal, by the polar method. */
function drawNormal(stream: RandomStream): number {
  for (let tries = 0; tries < mostTries; tries += 1) {
    const x = 2 * stream.unit() - 1;
    const y = 2 * stream.unit() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * quickLogarithm(square)) / square);
  }
  throw new InvariantError('no point fell into the unit circle', {});
}
