// Visits fitted by maximum likelihood. The model is a Bartlett–Lewis cluster process (Bartlett, J. R. Stat. Soc. B 25
// (1963); Lewis, J. R. Stat. Soc. B 26 (1964)) with geometric numbers of openings, in which no visit begins during
// another: after each opening the visit goes on with probability p, and the next opening follows after a gap with
// density w; or it ends, and the next visit begins at a rate λ that depends on the hour. So the likelihood is a
// product over gaps of p·w + (1 − p)·λ·exp(−∫λ), and expectation–maximisation finds its maximum.
import { cellAt, hourMs } from '../../base/index.js';
import { mostFitGaps, mostFitSteps } from '../../model/index.js';
import type { Spans } from '../../world/index.js';
import { type HourSpans, hourKinds } from './hour-spans.js';
import { logarithm } from './portable-math.js';
import { quickExponential } from './quick-math.js';

/** Openings further apart than this are never of one visit: beyond it the hours decide. */
const longestGapMs = 2 * hourMs;
const mostRounds = 300;
const fewestRounds = 12;
const leastSigma = 0.05;
const mostSigma = 2;
/** The share of an hour that counts as free of visits at least. */
const leastFree = 0.1;
/** A gap of less than this is as short: below it logs do not resolve. */
const shortestGapMs = 1;

/** Gaps between openings, with the hours that pass in each. */
export interface Gaps {
  readonly ms: Float64Array;
  /** The kind of hour in which the next opening begins; `hourKinds`: none does, the log ends first. */
  readonly endKind: Uint8Array;
  /** Where the hours of each gap begin in the two lists below; one entry more than gaps. */
  readonly first: Uint32Array;
  readonly kind: Uint8Array;
  readonly hours: Float64Array;
}

/**
 * @param untilMs the end of what is known: the last gap is cut off there.
 * @param isBegun 0: nobody saw an opening begin there, so the gap before it is cut off; absent: each begins with one.
 */
export function gapsOf(
  openings: Spans,
  spans: HourSpans,
  untilMs: number,
  isBegun?: Uint8Array,
): Gaps {
  const count = openings.fromMs.length;
  const ms = new Float64Array(count);
  const endKind = new Uint8Array(count);
  const first = new Uint32Array(count + 1);
  const kind: number[] = [];
  const hours: number[] = [];
  let at = 0;
  for (let index = 0; index < count; index += 1) {
    const fromMs = Math.min(untilMs, openings.toMs[index] ?? untilMs);
    const toMs = openings.fromMs[index + 1] ?? untilMs;
    first[index] = kind.length;
    ms[index] = Math.max(shortestGapMs, toMs - fromMs);
    while (at < spans.toMs.length - 1 && cellAt(spans.toMs, at) <= fromMs) at += 1;
    let [fromHere, here] = [fromMs, at];
    while (fromHere < toMs && here < spans.toMs.length) {
      const endMs = Math.min(toMs, cellAt(spans.toMs, here));
      kind.push(spans.kind[here] ?? 0);
      hours.push((endMs - fromHere) / hourMs);
      fromHere = endMs;
      if (fromHere < toMs) here += 1;
    }
    const isCut = index === count - 1 || isBegun?.[index + 1] === 0;
    // An opening at a full hour is of the hour that begins.
    const last = Math.min(
      spans.kind.length - 1,
      toMs >= cellAt(spans.toMs, Math.min(here, spans.toMs.length - 1)) ? here + 1 : here,
    );
    endKind[index] = isCut ? hourKinds : (spans.kind[last] ?? 0);
  }
  first[count] = kind.length;
  return { ms, endKind, first, kind: Uint8Array.from(kind), hours: Float64Array.from(hours) };
}

/** The density of gaps within a visit. */
export type GapShape =
  | { readonly kind: 'exponential'; readonly meanMs: number }
  | { readonly kind: 'lognormal'; readonly logMedian: number; readonly sigma: number };

export interface VisitFit {
  /** The probability that another opening of the visit follows. */
  readonly goesOn: number;
  readonly shape: GapShape;
  /** Visits in an hour of each of the 24, on a weekday. */
  readonly perHour: Float64Array;
  readonly weekend: number;
  readonly logLikelihood: number;
  /** For each gap, the probability that it lies within a visit. */
  readonly within: Float64Array;
}

/** Where expectation–maximisation begins: the lengths of the gaps below this are taken as those within visits. */
const startBelowMs = 10 * 60_000;

const gapsInBlock = 1_000;

/** @param from an earlier fit to begin with; null: from the gaps below ten minutes. */
export function fitVisits(
  gaps: Gaps,
  kind: 'none' | GapShape['kind'],
  from: VisitFit | null = null,
  rounds = mostRounds,
): VisitFit {
  if (from !== null || gaps.ms.length <= mostFitGaps) return fitAll(gaps, kind, from, rounds);
  return fitAll(gaps, kind, fitAll(blocksOf(gaps), kind, null, rounds), 1);
}

function blocksOf(gaps: Gaps): Gaps {
  const blocks = Math.ceil(gaps.ms.length / gapsInBlock);
  const kept = Math.floor(mostFitGaps / gapsInBlock);
  const isKept = (index: number): boolean => {
    const block = Math.floor(index / gapsInBlock);
    return Math.floor(((block + 1) * kept) / blocks) > Math.floor((block * kept) / blocks);
  };
  const first: number[] = [];
  const kind: number[] = [];
  const hours: number[] = [];
  for (let index = 0; index < gaps.ms.length; index += 1) {
    if (!isKept(index)) continue;
    first.push(kind.length);
    for (let at = gaps.first[index] ?? 0; at < (gaps.first[index + 1] ?? 0); at += 1) {
      kind.push(gaps.kind[at] ?? 0);
      hours.push(cellAt(gaps.hours, at));
    }
  }
  return {
    ms: gaps.ms.filter((_, index) => isKept(index)),
    endKind: gaps.endKind.filter((_, index) => isKept(index)),
    first: Uint32Array.from([...first, kind.length]),
    kind: Uint8Array.from(kind),
    hours: Float64Array.from(hours),
  };
}

function fitAll(
  gaps: Gaps,
  kind: 'none' | GapShape['kind'],
  from: VisitFit | null,
  rounds: number,
): VisitFit {
  const count = gaps.ms.length;
  const logs = Float64Array.from(gaps.ms, (ms) => logarithm(ms));
  const within = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    const isShort = cellAt(gaps.ms, index) < startBelowMs && gaps.endKind[index] !== hourKinds;
    within[index] = kind === 'none' ? 0 : isShort ? 0.9 : 0.05;
  }
  let fit =
    from ?? maximised(gaps, logs, { kind, within, logLikelihood: Number.NEGATIVE_INFINITY });
  const affordable = Math.max(fewestRounds, Math.floor(mostFitSteps / Math.max(1, count)));
  for (let round = 0; round < Math.min(rounds, affordable); round += 1) {
    const expected = expectation(gaps, logs, fit);
    const gain = expected.logLikelihood - fit.logLikelihood;
    fit = maximised(gaps, logs, { kind, ...expected });
    if (Math.abs(gain) < 1e-7 * Math.max(1, Math.abs(fit.logLikelihood))) break;
  }
  return fit;
}

const rootTwoPi = Math.sqrt(2 * Math.PI);

function small(x: number): number {
  return x < -40 ? 0 : quickExponential(Math.min(40, x));
}

/** The density of a gap within a visit, an hour. */
export function gapDensity(shape: GapShape, ms: number, logMs: number): number {
  if (ms > longestGapMs) return 0;
  if (shape.kind === 'exponential') return (hourMs / shape.meanMs) * small(-ms / shape.meanMs);
  const z = (logMs - shape.logMedian) / shape.sigma;
  return (hourMs * small(-0.5 * z * z)) / (ms * shape.sigma * rootTwoPi);
}

/** The expected number of visits in a gap of shut door, at the rates of a fit. */
export function visitsExpected(
  gaps: Gaps,
  fit: Pick<VisitFit, 'perHour' | 'weekend'>,
  index: number,
): number {
  let sum = 0;
  for (let at = gaps.first[index] ?? 0; at < (gaps.first[index + 1] ?? 0); at += 1) {
    sum += rateAt(fit, gaps.kind[at] ?? 0) * cellAt(gaps.hours, at);
  }
  return sum;
}

function rateAt({ perHour, weekend }: Pick<VisitFit, 'perHour' | 'weekend'>, kind: number): number {
  return kind < 24 ? (perHour[kind] ?? 0) : (perHour[kind - 24] ?? 0) * weekend;
}

function expectation(gaps: Gaps, logs: Float64Array, fit: VisitFit) {
  const within = new Float64Array(gaps.ms.length);
  let logLikelihood = 0;
  for (let index = 0; index < gaps.ms.length; index += 1) {
    const ms = cellAt(gaps.ms, index);
    const endKind = gaps.endKind[index] ?? 0;
    const none = small(-visitsExpected(gaps, fit, index));
    const isCut = endKind === hourKinds;
    // A visit that would have gone on after the end of the log is unlikely unless the log ends soon.
    const inVisit =
      fit.goesOn *
      (isCut ? survival(fit.shape, ms) : gapDensity(fit.shape, ms, cellAt(logs, index)));
    const after = (1 - fit.goesOn) * none * (isCut ? 1 : rateAt(fit, endKind));
    const both = Math.max(1e-300, inVisit + after);
    within[index] = inVisit / both;
    logLikelihood += logarithm(both);
  }
  return { within, logLikelihood };
}

function survival(shape: GapShape, ms: number): number {
  const meanMs =
    shape.kind === 'exponential' ? shape.meanMs : quickExponential(Math.min(40, shape.logMedian));
  return small(-ms / meanMs);
}

interface Expected {
  readonly kind: 'none' | GapShape['kind'];
  readonly within: Float64Array;
  readonly logLikelihood: number;
}

function maximised(
  gaps: Gaps,
  logs: Float64Array,
  { kind, within, logLikelihood }: Expected,
): VisitFit {
  const count = gaps.ms.length;
  let weight = 0;
  let seen = 0;
  let sum = 0;
  let squares = 0;
  let sumMs = 0;
  const starts = new Float64Array(hourKinds);
  const hours = new Float64Array(hourKinds);
  const clock = new Float64Array(hourKinds);
  for (let index = 0; index < count; index += 1) {
    const r = cellAt(within, index);
    const endKind = gaps.endKind[index] ?? 0;
    const log = cellAt(logs, index);
    seen += r;
    if (endKind < hourKinds) {
      weight += r;
      sum += r * log;
      squares += r * log * log;
      sumMs += r * cellAt(gaps.ms, index);
      starts[endKind] = (starts[endKind] ?? 0) + 1 - r;
    }
    for (let at = gaps.first[index] ?? 0; at < (gaps.first[index + 1] ?? 0); at += 1) {
      const here = gaps.kind[at] ?? 0;
      hours[here] = (hours[here] ?? 0) + (1 - r) * cellAt(gaps.hours, at);
      clock[here] = (clock[here] ?? 0) + cellAt(gaps.hours, at);
    }
  }
  // Where visits fill an hour, next to nothing is known of the rate at which one would begin in it.
  for (let here = 0; here < hourKinds; here += 1) {
    hours[here] = Math.max(cellAt(hours, here), leastFree * cellAt(clock, here));
  }
  const logMedian = weight > 0 ? sum / weight : 0;
  const spread = weight > 0 ? squares / weight - logMedian * logMedian : 0;
  const shape: GapShape =
    kind === 'exponential'
      ? { kind, meanMs: Math.max(shortestGapMs, sumMs / Math.max(1e-9, weight)) }
      : {
          kind: 'lognormal',
          logMedian,
          sigma: Math.min(mostSigma, Math.max(leastSigma, Math.sqrt(Math.max(0, spread)))),
        };
  const goesOn = kind === 'none' || count === 0 ? 0 : seen / count;
  return { goesOn, shape, ...hourRates(starts, hours), logLikelihood, within };
}

/** Rates by the hour of the day times a factor for the weekend: the likeliest of this product form. */
export function hourRates(starts: Float64Array, hours: Float64Array) {
  const perHour = new Float64Array(24);
  let weekend = 1;
  const weekendStarts = starts.subarray(24).reduce((sum, one) => sum + one, 0);
  const isKnown = hours.subarray(24).some((h) => h > 0) && hours.subarray(0, 24).some((h) => h > 0);
  const weekdayStarts = starts.subarray(0, 24).reduce((sum, one) => sum + one, 0);
  for (let round = 0; round < 20; round += 1) {
    let expected = 0;
    for (let hour = 0; hour < 24; hour += 1) {
      const here = (hours[hour] ?? 0) + weekend * (hours[hour + 24] ?? 0);
      perHour[hour] = here > 0 ? ((starts[hour] ?? 0) + (starts[hour + 24] ?? 0)) / here : 0;
      expected += (perHour[hour] ?? 0) * (hours[hour + 24] ?? 0);
    }
    if (!isKnown || expected <= 0 || weekdayStarts <= 0) break;
    const next = Math.min(100, weekendStarts / expected);
    if (Math.abs(next - weekend) < 1e-9) break;
    weekend = next;
  }
  return { perHour, weekend };
}
