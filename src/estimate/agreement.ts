// Whether years drawn from a profile are as the log that it was fitted to, in what they are for: false alarms and misses
// at several check intervals.
import { cellAt, dayMs, deviceMs, yearMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import type { Program } from '../sim/index.js';
import { seenMsOf } from '../verdict/index.js';
import { type DeviceTiming, noSpans, type Spans, spansOf, type World } from '../world/index.js';
import { type Estimated, estimatedRate } from './intervals.js';
import { overPhases } from './phases.js';
import { type WeightedSum, weightedRate } from './weighted.js';
import { tallyYears } from './years.js';

export const agreementIntervalsMs: readonly number[] = [15, 30, 60, 120, 300, 600].map(
  (seconds) => seconds * 1_000,
);
/** A table has a dozen figures: of 95 % intervals, one in every second table would miss by chance. */
export const agreementConfidence = 0.99;
export const agreementNames = ['falseAlarms', 'missed'] as const;
export type AgreementName = (typeof agreementNames)[number];

/** One figure of the log and of the drawn years. */
export interface Agreement extends Estimated {
  /** Of the log itself, on average over up to 200 phases of the checks, per year; its interval is from how its days differ. */
  readonly logged: number;
  readonly drawn: number;
  /** Where the average of more drawn years may lie, at the same confidence. */
  readonly drawnRange: { readonly low: number; readonly high: number };
  /** False: the drawn years lie outside the interval of the log, also with their own doubt. */
  readonly agrees: boolean;
}

export interface AgreementRow extends Readonly<Record<AgreementName, Agreement>> {
  readonly checkIntervalMs: number;
  readonly recheckIntervalMs: number;
  /** The log was judged at every phase; else at up to 200. */
  readonly atEveryPhase: boolean;
}

export interface Compared {
  /** The watch; its intervals between checks are replaced. */
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly judge: Requirements;
  readonly openings: Spans;
  readonly lengthMs: number;
  /** Spans of which nothing is known; absent: none. */
  readonly unseen?: Spans | undefined;
  readonly worldOf: (year: number) => World;
  /** Of the log per year, over every phase, with the intervals of the watch; null: it is sampled there as well. */
  readonly everyPhase?: Readonly<Record<AgreementName, number>> | null;
}

/** Simulated openings of each row, of the log over its phases and of the drawn years. */
const openingsOfLog = 30_000;
const openingsDrawn = 200_000;
/** Simulated wakes of each row where each has times of its own, and none can be counted as the one before: some seconds in all. */
const wakesDrawn = 20_000_000;
/** Phases: no fewer, and no more. */
const fewestPhases = 8;
const mostPhases = 200;
/** Of a log of more openings, days spread over it that have about as many. */
const openingsOfDays = 30_000;

export interface SomeDays {
  readonly openings: Spans;
  readonly unseen: Spans;
  readonly lengthMs: number;
}

/** Some of a log's days, one after the other; an opening that lasts into the next day ends with its own. */
export function someDays(
  openings: Spans,
  lengthMs: number,
  mostOpenings = openingsOfDays,
  unseen: Spans = noSpans,
): SomeDays {
  const count = openings.fromMs.length;
  const days = Math.floor(lengthMs / dayMs);
  if (count <= mostOpenings || days < 2) return { openings, unseen, lengthMs };
  const kept = Math.max(1, Math.floor((mostOpenings / count) * days));
  const before = (day: number): number => Math.floor((day * kept) / days);
  const isKept = (day: number): boolean => day < days && before(day + 1) > before(day);
  const starts: number[] = [];
  const ends: number[] = [];
  for (let index = 0; index < count; index += 1) {
    const fromMs = cellAt(openings.fromMs, index);
    const day = Math.floor(fromMs / dayMs);
    if (!isKept(day)) continue;
    const shiftMs = (day - before(day)) * dayMs;
    const endMs = (day + 1) * dayMs - 1;
    starts.push(fromMs - shiftMs);
    ends.push(Math.max(fromMs + 1, Math.min(endMs, cellAt(openings.toMs, index))) - shiftMs);
  }
  // Each day has its part of a span.
  const hidden: (readonly [number, number])[] = [];
  for (let span = 0; span < unseen.fromMs.length; span += 1) {
    const [fromMs, toMs] = [cellAt(unseen.fromMs, span), cellAt(unseen.toMs, span)];
    for (
      let day = Math.max(0, Math.floor(fromMs / dayMs));
      day * dayMs < toMs && day < days;
      day += 1
    ) {
      if (!isKept(day)) continue;
      const shiftMs = (day - before(day)) * dayMs;
      const endMs = Math.min((day + 1) * dayMs, toMs);
      hidden.push([Math.max(day * dayMs, fromMs) - shiftMs, endMs - shiftMs]);
    }
  }
  return {
    openings: { fromMs: Float64Array.from(starts), toMs: Float64Array.from(ends) },
    unseen: spansOf(hidden),
    lengthMs: kept * dayMs,
  };
}

/**
 * @param bootMs from a wake to its check, which follows each sleep.
 * @param recheckIntervalMs without it the check interval.
 */
export function agreementAt(
  compared: Compared,
  checkIntervalMs: number,
  bootMs: number,
  recheckIntervalMs = checkIntervalMs,
): AgreementRow {
  const { program, timing, judge, worldOf } = compared;
  const { openings, unseen, lengthMs } = someDays(
    compared.openings,
    compared.lengthMs,
    openingsOfDays,
    compared.unseen,
  );
  const watch = {
    ...program.watch,
    checkIntervalMs: deviceMs(checkIntervalMs),
    recheckIntervalMs: deviceMs(recheckIntervalMs),
  };
  const here = { program: { ...program, watch }, timing, judge };
  const perPhase = Math.floor(openingsOfLog / Math.max(1, openings.fromMs.length));
  const phases = Math.max(fewestPhases, Math.min(mostPhases, perPhase));
  const periodMs = checkIntervalMs + bootMs;
  const log = overPhases({ ...here, openings, unseen, lengthMs, phases, periodMs });
  // Visits that overlap merge: a year may have far fewer openings than the profile's rates add up to.
  const affordable = Math.floor(openingsDrawn / Math.max(1, worldOf(0).openings.fromMs.length));
  const simulable = hasVaryingWakes(timing)
    ? Math.floor((wakesDrawn * periodMs) / yearMs)
    : mostPhases;
  const years = Math.max(1, Math.min(mostPhases, affordable, simulable));
  const source = { ...here, seed: 'agreement', worldOf };
  const { counts } = tallyYears(source, 0, years);
  const seenYears = Math.max(dayMs, seenMsOf({ lengthMs, unseen })) / yearMs;
  const isOwn =
    checkIntervalMs === program.watch.checkIntervalMs &&
    recheckIntervalMs === program.watch.recheckIntervalMs;
  const exact = isOwn ? (compared.everyPhase ?? null) : null;
  const of = (name: AgreementName): Agreement =>
    agreementOf(
      exact === null ? log[name] : { ...log[name], sum: exact[name] * seenYears },
      seenYears,
      { count: counts[name], years },
    );
  const intervals = { checkIntervalMs, recheckIntervalMs };
  return {
    ...intervals,
    atEveryPhase: exact !== null,
    falseAlarms: of('falseAlarms'),
    missed: of('missed'),
  };
}

/** Whether a boot or a sleep takes now one time and now another. */
function hasVaryingWakes({ bootTime, clockError }: DeviceTiming): boolean {
  return bootTime.kind !== 'fixed' || clockError.kind !== 'fixed';
}

function agreementOf(
  logged: WeightedSum,
  exposure: number,
  { count, years }: { readonly count: number; readonly years: number },
): Agreement {
  const wide = weightedRate(logged, exposure, agreementConfidence);
  const drawn = estimatedRate(count, years, agreementConfidence);
  return {
    ...wide,
    logged: logged.sum / exposure,
    drawn: count / years,
    drawnRange: { low: drawn.low, high: drawn.high },
    agrees: drawn.low <= wide.high && drawn.high >= wide.low,
  };
}
