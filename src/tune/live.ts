// What the settings come to in years of use: alerts for nothing, and where the charge goes. All are simulated over the
// same years, so that what differs between them is theirs.

import { contactShutMsIn, lifeMs, spend, type Use, useOf } from '../battery/index.js';
import {
  addYear,
  type Estimate,
  type Evidence,
  emptyTally,
  estimatedRate,
  estimateOf,
  join,
  type Rate,
  type Tally,
  withEvidence,
} from '../estimate/index.js';
import type { WatchSettings } from '../machine/index.js';
import { type SupplySettings } from '../model/index.js';
import { type Experiment, simulate, type Trace } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import { deviceTiming, type World } from '../world/index.js';
import type { Tuned } from './grid.js';
import type { Programs, TuneQuestion } from './question.js';

/** Years of settings, as plain data. */
export interface Lived {
  readonly tally: Tally;
  readonly use: Use;
  /** Years of profiles that other samples of the log would have led to; empty: not simulated. */
  readonly resamples: readonly Tally[];
}

/** Where the years of a search come from. */
export interface YearsBy {
  readonly programOf: Programs;
  readonly worldOf: (year: number) => World;
  /** What people do with such a watch in a year with this seed; absent: nobody comes, and there is always charge. */
  readonly livedWith?: (
    watch: WatchSettings,
    seed: string,
  ) => Pick<Experiment, 'charge' | 'answers'>;
  /** The alerts as somebody saw them; absent: as they were delivered. */
  readonly asSeen?: (trace: Trace, seed: string) => Trace;
}

/** Runs the settings through the years of a question. Pure: the same settings give the same years on any thread. */
export function liveThrough(
  question: TuneQuestion,
  settings: readonly Tuned[],
  by: YearsBy,
): readonly Lived[] {
  const lives = settings.map((tuned) => ({
    program: by.programOf(tuned),
    tally: emptyTally(),
    use: noUse,
  }));
  const timing = deviceTiming({}, question.timing);
  for (let year = 0; year < question.years; year += 1) {
    const world = by.worldOf(year);
    const seed = `${question.seed} year ${String(year)}`;
    const contactShutMs = contactShutMsIn(world);
    for (const life of lives) {
      const lived = by.livedWith?.(life.program.watch, seed);
      const experiment = { program: life.program, timing, world, seed, ...lived };
      const trace = simulate(experiment, { record: 'none' });
      const seen = by.asSeen?.(trace, seed) ?? trace;
      addYear(life.tally, judge(world.openings, seen, question.judge), trace.alerts);
      const use =
        trace.flat.length === 0 ? useOf(trace, world, contactShutMs) : poweredUse(trace, world);
      life.use = bothUses(life.use, use);
    }
  }
  return lives.map(({ tally, use }) => ({ tally, use, resamples: [] }));
}

/** What a charge lasts for does not grow by the time that the device had none. */
function poweredUse(trace: Trace, world: World): Use {
  const { flatMs } = trace.tally;
  const use = useOf(trace, world);
  return { ...use, lengthMs: use.lengthMs - flatMs, offMs: use.offMs - flatMs };
}

const noActs = { count: 0, ms: 0 };
const noUse: Use = {
  lengthMs: 0,
  beforePowerOnMs: 0,
  offMs: 0,
  boots: noActs,
  checks: 0,
  openChecks: 0,
  sends: noActs,
  failedSends: noActs,
  heartbeats: noActs,
  waitMs: 0,
  heldMs: 0,
  shutBootMs: 0,
  contactShutMs: 0,
};

function bothUses(one: Use, other: Use): Use {
  const acts = (name: 'boots' | 'sends' | 'failedSends' | 'heartbeats') => ({
    count: one[name].count + other[name].count,
    ms: one[name].ms + other[name].ms,
  });
  return {
    lengthMs: one.lengthMs + other.lengthMs,
    beforePowerOnMs: one.beforePowerOnMs + other.beforePowerOnMs,
    offMs: one.offMs + other.offMs,
    boots: acts('boots'),
    checks: one.checks + other.checks,
    openChecks: one.openChecks + other.openChecks,
    sends: acts('sends'),
    failedSends: acts('failedSends'),
    heartbeats: acts('heartbeats'),
    waitMs: one.waitMs + other.waitMs,
    heldMs: one.heldMs + other.heldMs,
    shutBootMs: one.shutBootMs + other.shutBootMs,
    contactShutMs: one.contactShutMs + other.contactShutMs,
  };
}

/** What years say of settings. */
export interface YearsSay {
  /** Infinity: over a hundred years, by these numbers. */
  readonly lifeMs: number;
  /** With the doubt of a profile that was fitted to a log, where its resamples were simulated. */
  readonly rates: Estimate['rates'];
  /** Of the missed leave-opens, those all of whose delivered alerts were lost. */
  readonly missedByLoss: number;
  /** The upper end of false alarms as far as the profile is right: without what a log of its length leaves open by itself. */
  readonly falseAlarmsAtMost: number;
  /**
   * Over the profile and its resamples together, to compare settings: all meet the same doors, so that the profile's doubt
   * is of all of them alike. Absent: nothing but `rates` is known.
   */
  readonly overall?: Readonly<Record<WeighedName, Weighed>>;
}

export const weighedNames = ['missed', 'late', 'falseAlarms'] as const;
export type WeighedName = (typeof weighedNames)[number];
/** `count` in `years`. */
export type Weighed = Pick<Rate, 'count' | 'perYear' | 'high'> & { readonly years: number };

export function whatYearsSay(
  { tally, use, resamples }: Lived,
  supply: SupplySettings,
  {
    confidence,
    evidence = null,
  }: { readonly confidence: number; readonly evidence?: Evidence | null },
): YearsSay {
  const simulated = estimateOf(tally, confidence, resamples);
  const { rates, missedByLoss = 0 } = withEvidence(simulated, evidence);
  const lasts = lifeMs(spend(use, supply), supply) ?? Number.POSITIVE_INFINITY;
  const falseAlarmsAtMost = simulated.rates.falseAlarms.high;
  const say = { lifeMs: lasts, rates, missedByLoss, falseAlarmsAtMost };
  if (resamples.length === 0) return say;
  const all = emptyTally();
  for (const one of [tally, ...resamples]) join(all, one);
  const weighed = (name: WeighedName): Weighed => ({
    count: all.counts[name],
    years: all.years,
    perYear: all.counts[name] / all.years,
    high: estimatedRate(all.counts[name], all.years, confidence).high,
  });
  const overall = {
    missed: weighed('missed'),
    late: weighed('late'),
    falseAlarms: weighed('falseAlarms'),
  };
  return { ...say, overall };
}
