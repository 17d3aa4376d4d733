// The openings of one visit, drawn: how many, how long each, and the gaps between them. Lengths and gaps that depend on
// each other are drawn from normal scores with these correlations (a Gaussian copula), each from the two before it.

import { cellAt, InvariantError, itemAt } from '../../base/index.js';
import { mostDrawnInVisit, stretchLimits } from '../../model/index.js';
import type {
  CountDistribution,
  DurationDistribution,
  UsageProfile,
  VisitDependence,
  VisitHabit,
} from '../types.js';
import { quickNormalScore, quickNormalShare } from './normal-share.js';
import { logarithm } from './portable-math.js';
import { quickExponential, quickLogarithm } from './quick-math.js';

/** Nothing drawn is longer, however wide its distribution. */
export const longestDrawnMs = stretchLimits.most;
/** Pairs until one lies in the circle, as four of five do. */
const mostTries = 1_000;

/** Uniform numbers in [0, 1), one after the other. */
export interface Uniforms {
  unit(): number;
}

/** Exponential with mean 1, never below 0. */
export function drawExponential(random: Uniforms): number {
  // The logarithm of 1 comes out as a hair over 0.
  return Math.max(0, -quickLogarithm(1 - random.unit()));
}

export interface Normals {
  next(): number;
  /** Forgets the second of a pair, so that what is drawn depends on its own numbers only. */
  restart(): void;
}

/** Standard normals by the polar method, which gives two independent ones at a time. */
export function normalsFrom(random: Uniforms): Normals {
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

function wholeMs(ms: number): number {
  return Math.min(longestDrawnMs, Math.max(1, Math.round(ms)));
}

/** Draws durations of a distribution, independent of each other. */
export function drawer(
  distribution: DurationDistribution,
  random: Uniforms,
  normals: Normals,
): () => number {
  switch (distribution.kind) {
    case 'fixed':
      return () => distribution.ms;
    case 'drawn': {
      const { ms } = distribution;
      return () => itemAt(ms, Math.floor(random.unit() * ms.length));
    }
    case 'exponential':
      return () => wholeMs(distribution.meanMs * drawExponential(random));
    case 'lognormal': {
      const { medianMs, sigma } = distribution;
      return () => {
        const exponent = Math.min(40, Math.max(-40, sigma * normals.next()));
        return wholeMs(medianMs * quickExponential(exponent));
      };
    }
  }
}

/** The duration below which a distribution has this share, over 0 and below 1. */
function byShare(distribution: DurationDistribution): (share: number) => number {
  switch (distribution.kind) {
    case 'fixed':
      return () => distribution.ms;
    case 'drawn': {
      const sorted = distribution.ms.toSorted((a, b) => a - b);
      return (share) =>
        itemAt(sorted, Math.min(sorted.length - 1, Math.floor(share * sorted.length)));
    }
    case 'exponential': {
      const mean = Number(distribution.meanMs);
      return (share) => wholeMs(-mean * quickLogarithm(Math.max(2 ** -60, 1 - share)));
    }
    case 'lognormal': {
      const { medianMs, sigma } = distribution;
      return (share) => {
        const exponent = sigma * quickNormalScore(share);
        return wholeMs(medianMs * quickExponential(Math.min(40, Math.max(-40, exponent))));
      };
    }
  }
}

/** How many openings a visit has. */
function counter(openings: CountDistribution, random: Uniforms): () => number {
  switch (openings.kind) {
    case 'fixed':
      return () => openings.count;
    case 'drawn':
      return () => itemAt(openings.counts, Math.floor(random.unit() * openings.counts.length));
    case 'geometric': {
      if (openings.mean <= 1) return () => 1;
      const perOpening = -logarithm(1 - 1 / openings.mean);
      return () => Math.min(mostDrawnInVisit, 1 + Math.floor(drawExponential(random) / perOpening));
    }
    case 'poisson': {
      // As many as fit into one unit of a process with this mean.
      const further = openings.mean - 1;
      return () => {
        let count = 0;
        for (let reached = drawExponential(random); reached < further; count += 1) {
          reached += drawExponential(random);
        }
        return Math.min(mostDrawnInVisit, 1 + count);
      };
    }
  }
}

export function meanOpenings(openings: CountDistribution): number {
  switch (openings.kind) {
    case 'fixed':
      return openings.count;
    case 'geometric':
    case 'poisson':
      return openings.mean;
    case 'drawn':
      return openings.counts.reduce((sum, one) => sum + one, 0) / openings.counts.length;
  }
}

/**
 * How many openings come before the next one that is left open: geometric, so that one draw stands for what would be
 * one for each opening.
 */
export function briefOnes(share: number, random: Uniforms): () => number {
  if (share <= 0) return () => Number.POSITIVE_INFINITY;
  if (share >= 1) return () => 0;
  const perOpening = -logarithm(1 - share);
  return () => Math.floor(drawExponential(random) / perOpening);
}

/** Takes an opening; `long`: it is one of those left open. */
type TakeOpening = (fromMs: number, toMs: number, long: boolean) => void;

export interface VisitDrawer {
  /** Forgets what is kept between draws. */
  restart(): void;
  /** Draws the openings of a visit that begins at `fromMs`. @returns when its last opening ends. */
  visit(fromMs: number, take: TakeOpening): number;
}

type VisitProfile = UsageProfile & { readonly visits: VisitHabit };

export function visitDrawer(profile: VisitProfile, random: Uniforms): VisitDrawer {
  const { dependence } = profile.visits;
  return dependence === undefined
    ? independentVisits(profile, random)
    : dependentVisits(profile, dependence, random);
}

function independentVisits(
  { duration, leaveOpen, visits }: VisitProfile,
  random: Uniforms,
): VisitDrawer {
  const normals = normalsFrom(random);
  const countOf = counter(visits.openings, random);
  const drawBriefOnes = briefOnes(leaveOpen?.share ?? 0, random);
  const brief = drawer(duration, random, normals);
  const long = drawer(leaveOpen?.duration ?? duration, random, normals);
  const gap = drawer(visits.gap, random, normals);
  let briefLeft = -1;
  return {
    restart() {
      normals.restart();
      briefLeft = -1;
    },
    visit(fromMs, take) {
      const count = countOf();
      let atMs = fromMs;
      if (briefLeft < 0) briefLeft = drawBriefOnes();
      for (let index = 0; index < count; index += 1) {
        if (index > 0) atMs += gap();
        const isBrief = briefLeft > 0;
        const toMs = atMs + (isBrief ? brief() : long());
        briefLeft = isBrief ? briefLeft - 1 : drawBriefOnes();
        take(atMs, toMs, !isBrief);
        atMs = toMs;
      }
      return atMs;
    },
  };
}

/**
 * Lengths and gaps as a chain of normal scores: a gap's given the length before it; a length's given the length and the
 * gap before it (the conditional normal distribution of three with these correlations). The longest share of the
 * openings are those left open.
 */
function dependentVisits(
  { duration, leaveOpen, visits }: VisitProfile,
  { lengths, gapAfter, lengthAfter }: VisitDependence,
  random: Uniforms,
): VisitDrawer {
  const normals = normalsFrom(random);
  const countOf = counter(visits.openings, random);
  const rest = 1 - gapAfter * gapAfter;
  const onLength = (lengths - lengthAfter * gapAfter) / rest;
  const onGap = (lengthAfter - lengths * gapAfter) / rest;
  const gapNoise = Math.sqrt(rest);
  const explained = onLength * lengths + onGap * lengthAfter;
  const lengthNoise = Math.sqrt(Math.max(0, 1 - explained));
  const briefShare = 1 - (leaveOpen?.share ?? 0);
  const briefOf = byShare(duration);
  const longOf = byShare(leaveOpen?.duration ?? duration);
  const gapOf = byShare(visits.gap);
  return {
    restart: () => {
      normals.restart();
    },
    visit(fromMs, take) {
      const count = countOf();
      let atMs = fromMs;
      let length = 0;
      for (let index = 0; index < count; index += 1) {
        if (index === 0) length = normals.next();
        else {
          const gap = gapAfter * length + gapNoise * normals.next();
          length = onLength * length + onGap * gap + lengthNoise * normals.next();
          atMs += gapOf(quickNormalShare(gap));
        }
        const share = quickNormalShare(length);
        const isLong = share >= briefShare;
        const lastsMs = isLong
          ? longOf((share - briefShare) / Math.max(1e-9, 1 - briefShare))
          : briefOf(share / briefShare);
        take(atMs, atMs + lastsMs, isLong);
        atMs += lastsMs;
      }
      return atMs;
    },
  };
}
