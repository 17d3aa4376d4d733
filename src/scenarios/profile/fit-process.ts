// When openings happen, fitted to a log: as single openings (a Poisson process with a rate for each hour) or as visits of
// several, whichever Akaike's criterion prefers.
import { cellAt, dayMs, trueMs } from '../../base/index.js';
import {
  mostDrawn,
  mostListedInVisit,
  mostOpeningsAnHour,
  mostOpeningsAVisit,
} from '../../model/index.js';
import { knownOpenings, type SeenDoor, seenMsOf } from '../../verdict/index.js';
import type {
  CountDistribution,
  DurationDistribution,
  TimelineStart,
  UsageProfile,
  VisitHabit,
} from '../types.js';
import { type BusyTimes, busyTimes } from './busy.js';
import { dependenceOf } from './dependence.js';
import { fitVisits, type GapShape, type Gaps, gapsOf, type VisitFit } from './fit-visits.js';
import { hourSpans } from './hour-spans.js';
import { exponential } from './portable-math.js';
import { meanOpenings } from './visit-draws.js';

/** A log of less says nothing of the hours of the day. */
const fewestToFit = 3;

/** What is fitted to. */
export interface LoggedDoor extends SeenDoor {
  readonly start: TimelineStart;
}

/** How the process of openings was fitted. */
export interface ProcessFit {
  /** `visits`: a Bartlett-Lewis cluster process; `single`: a Poisson process; `flat`: too little to fit either. */
  readonly model: 'visits' | 'single' | 'flat';
  /** How many times likelier visits make the log than single openings do, as a difference of Akaike's criterion. */
  readonly gain: number;
  readonly gaps: number;
}

type Hours = Pick<UsageProfile, 'openingsPerHour' | 'weekdayFactor' | 'weekendFactor'>;

export interface FittedProcess {
  readonly how: ProcessFit;
  readonly rates: Hours;
  readonly visits: { readonly visits?: VisitHabit };
  /** What fits to resampled days begin with; null: nothing was fitted by likelihood. */
  readonly fit: VisitFit | null;
}

export function fitProcess(door: LoggedDoor): FittedProcess {
  const { lengthMs, start } = door;
  const busy = busyTimes(door, knownOpenings(door, 0));
  const count = busy.isBegun.reduce((sum, one) => sum + one, 0);
  const seenMs = seenMsOf(door);
  if (count < fewestToFit || seenMs < dayMs) return flat(count, seenMs);
  const { spans, isBegun } = withStart(busy);
  const gaps = gapsOf(spans, hourSpans(start, lengthMs), lengthMs, isBegun);
  const fits = (['none', 'exponential', 'lognormal'] as const).map((kind) => {
    const fit = fitVisits(gaps, kind);
    const parameters = { none: 0, exponential: 2, lognormal: 3 }[kind];
    return { kind, fit, criterion: 2 * parameters - 2 * fit.logLikelihood };
  });
  const single = fits[0];
  const best = fits.toSorted((a, b) => a.criterion - b.criterion)[0];
  if (single === undefined || best === undefined) return flat(count, seenMs);
  const model = best.kind === 'none' ? 'single' : 'visits';
  const habit = best.kind === 'none' ? null : habitOf(busy, gaps, best.fit);
  return {
    how: { model, gain: single.criterion - best.criterion, gaps: gaps.ms.length },
    rates: ratesOf(habit === null ? best.fit : asOften(best.fit, habit.openings)),
    visits: habit === null ? {} : { visits: habit },
    fit: best.fit,
  };
}

/** Where the log begins before its first opening, the door counts as shut from there on. */
function withStart(busy: BusyTimes): Pick<BusyTimes, 'spans' | 'isBegun'> {
  const { spans, isBegun } = busy;
  if (cellAt(spans.fromMs, 0) <= 0) return busy;
  return {
    spans: {
      fromMs: Float64Array.from([-1, ...spans.fromMs]),
      toMs: Float64Array.from([0, ...spans.toMs]),
    },
    isBegun: Uint8Array.from([0, ...isBegun]),
  };
}

/** Too little for any shape: as many openings a day as there were, at any hour. */
function flat(count: number, seenMs: number): FittedProcess {
  const perHour = rounded(Math.min(mostOpeningsAnHour, count / (24 * Math.max(1, seenMs / dayMs))));
  return {
    how: { model: 'flat', gain: 0, gaps: 0 },
    rates: {
      openingsPerHour: Array.from({ length: 24 }, () => perHour),
      weekdayFactor: 1,
      weekendFactor: 1,
    },
    visits: {},
    fit: null,
  };
}

/**
 * The rates count a gap that may lie within a visit as a part of a visit's beginning; sizes from the log count whole visits, so there are
 * fewer and larger ones. As many openings as in the log need as many fewer beginnings.
 */
function asOften(fit: VisitFit, openings: CountDistribution): VisitFit {
  if (openings.kind !== 'drawn') return fit;
  const larger = meanOpenings(openings) * (1 - fit.goesOn);
  return { ...fit, perHour: fit.perHour.map((rate) => rate / larger) };
}

function ratesOf({ perHour, weekend }: VisitFit): Hours {
  return {
    openingsPerHour: Array.from(perHour, (rate) => Math.min(mostOpeningsAnHour, rounded(rate))),
    weekdayFactor: 1,
    weekendFactor: rounded(weekend),
  };
}

function habitOf({ spans, isBegun, isWhole }: BusyTimes, gaps: Gaps, fit: VisitFit): VisitHabit {
  const lead = gaps.ms.length - spans.fromMs.length;
  const within = fit.within.subarray(lead);
  const dependence = dependenceOf(spans, within, isWhole);
  return {
    openings: countsOf(fit, within, isBegun),
    gap: gapDistribution(fit.shape),
    ...(dependence === null ? {} : { dependence }),
  };
}

/** Fewer visits do not show that their numbers of openings are not geometric. */
const fewestVisits = 10;
/** How far the variance of these numbers may lie from that of a geometric distribution, as a factor either way. */
const unlikeGeometric = 3;

/** Geometric, as the likelihood has it, unless the visits in the log are plainly of other sizes: then those. */
function countsOf(fit: VisitFit, within: Float64Array, isBegun: Uint8Array): CountDistribution {
  const counts: number[] = [];
  let count = 0;
  for (const [index, share] of within.entries()) {
    count += isBegun[index] ?? 0;
    if (share > 0.5) continue;
    if (count > 0) counts.push(Math.min(mostListedInVisit, count));
    count = 0;
  }
  const mean = counts.reduce((sum, one) => sum + one, 0) / Math.max(1, counts.length);
  const squares = counts.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const variance = squares / Math.max(1, counts.length - 1);
  const geometric = mean * (mean - 1);
  const isUnlike = variance < geometric / unlikeGeometric || variance > geometric * unlikeGeometric;
  if (counts.length >= fewestVisits && mean > 1.2 && isUnlike) {
    return { kind: 'drawn', counts: counts.slice(0, mostDrawn) };
  }
  return { kind: 'geometric', mean: meanOf(fit) };
}

export function meanOf({ goesOn }: Pick<VisitFit, 'goesOn'>): number {
  return rounded(Math.min(mostOpeningsAVisit, 1 / Math.max(1e-9, 1 - goesOn)));
}

export function gapDistribution(
  shape: GapShape,
): Extract<DurationDistribution, { readonly kind: GapShape['kind'] }> {
  if (shape.kind === 'exponential') {
    return { kind: 'exponential', meanMs: trueMs(Math.max(1, Math.round(shape.meanMs))) };
  }
  const medianMs = trueMs(Math.max(1, Math.round(exponential(shape.logMedian))));
  return { kind: 'lognormal', medianMs, sigma: rounded(shape.sigma) };
}

/** Four figures: more are not known. */
function rounded(value: number): number {
  // Less than one in a million hours is what an optimiser leaves of 0.
  return value < 1e-6 ? 0 : Number(value.toPrecision(4));
}
