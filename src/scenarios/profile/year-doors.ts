// A year of a door's use, drawn for estimates of many thousand years. The same habits as `generateDoor` draws from,
// but one stream a year and not one an opening: nobody shrinks these years, and they cost a thirtieth.
import { cellAt, dayMs, hourMs, invariant, itemAt, randomBlock, yearMs } from '../../base/index.js';
import type { Spans } from '../../world/index.js';
import type { LoggedDay, UsageProfile, VisitHabit } from '../types.js';
import {
  briefOnes,
  drawExponential,
  drawer,
  meanOpenings,
  normalsFrom,
  visitDrawer,
} from './visit-draws.js';

const hoursAWeek = 168;
/** A device-year has 365 days of 24 hours. */
export const hoursAYear = 8_760;
const daysAYear = 365;

/** Draws the openings of the year with this number; one that outlasts the year is endless. */
export type YearDoors = (seed: string, year: number) => Spans;

/** How many openings to expect in a year, with those that fall while the door is already open, which are left out. */
export function openingsAYear(profile: UsageProfile): number {
  if (profile.days !== undefined) return loggedAYear(profile.days);
  const means = meansOfWeek(profile);
  const week = means.reduce((sum, mean) => sum + mean, 0);
  const each = profile.visits === undefined ? 1 : meanOpenings(profile.visits.openings);
  return (each * week * hoursAYear) / hoursAWeek;
}

function loggedAYear(days: readonly LoggedDay[]): number {
  const meanOf = (weekend: boolean): number => {
    const some = daysFor(days, weekend);
    return some.reduce((sum, { openings }) => sum + openings.length, 0) / Math.max(1, some.length);
  };
  return (daysAYear / 7) * (5 * meanOf(false) + 2 * meanOf(true));
}

/** The logged days to draw a weekday or a weekend day from: those of its kind, or all where the log has none. */
export function daysFor(days: readonly LoggedDay[], weekend: boolean): readonly LoggedDay[] {
  const same = days.filter((day) => day.weekend === weekend);
  return same.length > 0 ? same : days;
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
 * A person who comes while the door is open walks through it.
 */
export function yearDoors(profile: UsageProfile): YearDoors {
  const { days, visits } = profile;
  if (days !== undefined) return yearsOfDays(days);
  return visits === undefined ? yearsOfOpenings(profile) : yearsOfVisits({ ...profile, visits });
}

/** Openings by the year, in lists that grow as they need. */
function openingLists(expected: number) {
  // No year has more single openings than ten standard deviations over what to expect; visits may.
  let from = new Float64Array(Math.ceil(expected + 10 * Math.sqrt(expected) + 100));
  let to = new Float64Array(from.length);
  let count = 0;
  let shutAtMs = -1;
  const grown = (list: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> => {
    const longer = new Float64Array(2 * list.length);
    longer.set(list);
    return longer;
  };
  return {
    restart() {
      count = 0;
      shutAtMs = -1;
    },
    /** A person who comes while the door is open walks through it: that makes no opening. */
    take: (fromMs: number, toMs: number): void => {
      if (fromMs <= shutAtMs || fromMs >= yearMs) return;
      if (count === from.length) [from, to] = [grown(from), grown(to)];
      shutAtMs = toMs;
      from[count] = fromMs;
      to[count] = toMs > yearMs ? Number.POSITIVE_INFINITY : toMs;
      count += 1;
    },
    spans: (): Spans => ({ fromMs: from.slice(0, count), toMs: to.slice(0, count) }),
  };
}

/** Each day of the year is one of the log's, drawn from those of its kind: a bootstrap of blocks of one day. */
function yearsOfDays(days: readonly LoggedDay[]): YearDoors {
  const random = randomBlock();
  const lists = openingLists(loggedAYear(days));
  const pools = [daysFor(days, false), daysFor(days, true)] as const;
  return (seed, year) => {
    random.open(seed, 'days of a year', year);
    lists.restart();
    for (let day = 0; day < daysAYear; day += 1) {
      const pool = pools[(year + day) % 7 < 5 ? 0 : 1];
      const { openings } = itemAt(pool, Math.floor(random.unit() * pool.length));
      for (const { atMs, forMs } of openings) {
        lists.take(day * dayMs + atMs, day * dayMs + atMs + forMs);
      }
    }
    return lists.spans();
  };
}

/** Visits begin as single openings do; one that would begin during another is part of it. */
function yearsOfVisits(profile: UsageProfile & { readonly visits: VisitHabit }): YearDoors {
  const means = meansOfWeek(profile);
  const random = randomBlock();
  const drawer = visitDrawer(profile, random);
  const lists = openingLists(openingsAYear(profile));
  return (seed, year) => {
    random.open(seed, 'visits of a year', year);
    drawer.restart();
    lists.restart();
    const firstHour = (year % 7) * 24;
    let goneAtMs = -1;
    let reached = drawExponential(random);
    for (let hour = 0; hour < hoursAYear; hour += 1) {
      const mean = cellAt(means, (firstHour + hour) % hoursAWeek);
      while (reached < mean) {
        const fromMs = hour * hourMs + Math.min(hourMs - 1, Math.floor((reached / mean) * hourMs));
        reached += drawExponential(random);
        if (fromMs > goneAtMs) goneAtMs = drawer.visit(fromMs, lists.take);
      }
      reached -= mean;
    }
    return lists.spans();
  };
}

function yearsOfOpenings(profile: UsageProfile): YearDoors {
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
