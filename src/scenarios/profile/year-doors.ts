// A year of a door's use, drawn for estimates of many thousand years. The same habits as `generateDoor` draws from,
// but one stream a year and not one an opening: nobody shrinks these years, and they cost a thirtieth.
import { cellAt, InvariantError, invariant, itemAt, randomBlock } from '../../base/index.js';
import type { Spans } from '../../world/index.js';
import type { DurationDistribution, UsageProfile } from '../types.js';
import { logarithm } from './portable-math.js';
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

/** Uniform numbers in [0, 1), one after the other. */
interface Uniforms {
  unit(): number;
}

/**
 * Openings are a Poisson process whose rate changes by the hour: gaps are exponential in expected openings, and the
 * hours say when so many are reached. The year with number n begins on weekday n mod 7, so that none is favoured.
 * A person who comes while the door is open walks through it.
 */
export function yearDoors(profile: UsageProfile): YearDoors {
  const means = meansOfWeek(profile);
  const random = randomBlock();
  const normals = normalsFrom(random);
  const { leaveOpen } = profile;
  const brief = drawer(profile.duration, random, normals);
  const long = leaveOpen === null ? brief : drawer(leaveOpen.duration, random, normals);
  const drawBriefOnes = briefOnes(leaveOpen?.share ?? 0, random);
  const expected = openingsAYear(profile);
  // Written over by each year: no year has more openings than ten standard deviations over what to expect.
  const from = new Float64Array(Math.ceil(expected + 10 * Math.sqrt(expected) + 100));
  const to = new Float64Array(from.length);
  return (seed, year) => {
    random.open(seed, 'door of a year', year);
    normals.restart();
    const firstHour = (year % 7) * 24;
    let count = 0;
    let shutAtMs = -1;
    let briefLeft = drawBriefOnes();
    let reached = drawExponential(random);
    for (let hour = 0; hour < hoursAYear; hour += 1) {
      const mean = cellAt(means, (firstHour + hour) % hoursAWeek);
      while (reached < mean) {
        const fromMs = hour * hourMs + Math.min(hourMs - 1, Math.floor((reached / mean) * hourMs));
        reached += drawExponential(random);
        const isBrief = briefLeft > 0;
        const toMs = fromMs + (isBrief ? brief() : long());
        briefLeft = isBrief ? briefLeft - 1 : drawBriefOnes();
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

/**
 * How many openings come before the next one that is left open: geometric, so that one draw stands for what would be
 * one for each opening.
 */
function briefOnes(share: number, random: Uniforms): () => number {
  if (share <= 0) return () => Number.POSITIVE_INFINITY;
  if (share >= 1) return () => 0;
  const perOpening = -logarithm(1 - share);
  return () => Math.floor(drawExponential(random) / perOpening);
}

function drawer(distribution: DurationDistribution, random: Uniforms, normals: Normals) {
  const whole = (ms: number): number => Math.min(longestMs, Math.max(1, Math.round(ms)));
  switch (distribution.kind) {
    case 'fixed':
      return () => distribution.ms;
    case 'drawn': {
      const { ms } = distribution;
      return () => itemAt(ms, Math.floor(random.unit() * ms.length));
    }
    case 'exponential':
      return () => whole(distribution.meanMs * drawExponential(random));
    case 'lognormal': {
      const { medianMs, sigma } = distribution;
      return () => {
        const exponent = Math.min(40, Math.max(-40, sigma * normals.next()));
        return whole(medianMs * quickExponential(exponent));
      };
    }
  }
}

/** Exponential with mean 1, never below 0. */
export function drawExponential(random: Uniforms): number {
  // The logarithm of 1 comes out as a hair over 0.
  return Math.max(0, -quickLogarithm(1 - random.unit()));
}

interface Normals {
  next(): number;
  /** Forgets the second of a pair, so that a year depends on its own numbers only. */
  restart(): void;
}

/** Standard normals by the polar method, which gives two independent ones at a time. */
function normalsFrom(random: Uniforms): Normals {
  const kept = new Float64Array(1);
  let keeps = false;
  return {
    restart() {
      keeps = false;
    },
    next() {
      if (keeps) {
        keeps = false;
        return cellAt(kept, 0);
      }
      for (let tries = 0; tries < mostTries; tries += 1) {
        const x = 2 * random.unit() - 1;
        const y = 2 * random.unit() - 1;
        const square = x * x + y * y;
        if (square <= 0 || square >= 1) continue;
        const scale = Math.sqrt((-2 * quickLogarithm(square)) / square);
        kept[0] = y * scale;
        keeps = true;
        return x * scale;
      }
      throw new InvariantError('no point fell into the unit circle', {});
    },
  };
}
