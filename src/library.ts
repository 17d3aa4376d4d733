// The questions of the command line as functions for programs and tests: a checked watch file in, a plain answer out.

import { invariant } from './base/index.js';
import { type Bounds, boundsOf, questionOf } from './bounds/index.js';
import {
  type Estimate,
  estimateOf,
  tallyYears,
  withEvidence,
  yearsOfResample,
} from './estimate/index.js';
import { mostLibraryReasons } from './model/index.js';
import { type EveryPhase, everyPhase } from './phase/index.js';
import {
  bouncesTooMuch,
  evidenceOf,
  experimentOf,
  livingOf,
  type Mishaps,
  resampleCount,
  resampled,
  type Timeline,
  type UnmetExpectation,
  type UsageProfile,
  unmetExpectations,
  type WatchFile,
  yearsLivedWith,
  yearWorlds,
} from './scenarios/index.js';
import { compileWatch, simulate, type Trace } from './sim/index.js';
import { type Explanation, explain, judge, type Verdict } from './verdict/index.js';
import { deviceTiming } from './world/index.js';

/** What a watch did in one timeline. */
export interface ReplayAnswer {
  readonly verdict: Verdict;
  /** Why each missed or late leave-open and each false alarm happened, one sentence each. */
  readonly reasons: readonly Explanation[];
  /** Expectations of the scenario that are not met; empty where it has none. */
  readonly unmet: readonly UnmetExpectation[];
  readonly trace: Trace;
}

/** Drives a timeline through a watch and judges what it did, as `dozewatch replay` does. */
export function replay(timeline: Timeline, watchFile: WatchFile): ReplayAnswer {
  const { world, expect, logged } = timeline;
  const program = compileWatch(watchFile.watch);
  const experiment = experimentOf(timeline, { program, watchFile });
  const trace = simulate(experiment);
  const verdict = judge(world.openings, trace, watchFile.judge, logged?.unseen);
  return {
    verdict,
    reasons: explain({ experiment, verdict, asked: watchFile.judge, limit: mostLibraryReasons }),
    unmet: expect === null ? [] : unmetExpectations(expect, verdict.summary),
    trace,
  };
}

/** Judges a timeline at every phase of the checks, as `dozewatch replay --every-phase` does. */
export function replayAtEveryPhase(timeline: Timeline, watchFile: WatchFile): EveryPhase {
  const { logged } = timeline;
  const program = compileWatch(watchFile.watch);
  const experiment = experimentOf(timeline, { program, watchFile });
  const every = everyPhase(experiment, watchFile.judge, {
    wasRunning: logged?.powerOnIsAssumed === true,
    unavailable: logged?.unseen,
  });
  invariant(every !== null, 'no limit was given');
  return every;
}

/** Proves what a watch does at worst, as `dozewatch bounds` does, in the environment of its file. */
export function bounds(watchFile: WatchFile): Bounds {
  return boundsOf(questionOf(watchFile));
}

/** How an estimate is made. */
export interface EstimateOptions {
  readonly profile: UsageProfile;
  /** Simulated device-years, from 1 on. */
  readonly years: number;
  /** The same seed gives the same years. Default: '1'. */
  readonly seed?: string;
  /** Of the intervals, between 0 and 1. Default: 0.95. */
  readonly confidence?: number;
  readonly outages?: Mishaps;
  readonly powerLosses?: Mishaps;
}

/**
 * Rates per year with their intervals, from simulated years, as `dozewatch estimate` gives them.
 * @throws InvariantError for a number of years that is not a whole number from 1 on, or for a contact whose bounce is so long
 * that a year of it does not fit in memory.
 */
export function estimate(watchFile: WatchFile, options: EstimateOptions): Estimate {
  const { profile, years, seed = '1', confidence = 0.95 } = options;
  invariant(Number.isSafeInteger(years) && years > 0, 'years are a whole number from 1 on', {
    years,
  });
  const { watch, timing, judge: required, contact } = watchFile;
  const habits = {
    profile,
    contact,
    outages: options.outages ?? null,
    powerCuts: options.powerLosses ?? null,
  };
  invariant(!bouncesTooMuch(habits), 'a year of this contact fits in memory', { ...contact });
  const program = compileWatch(watch);
  const people = yearsLivedWith(livingOf(watchFile));
  const lived = {
    livedWith: (yearSeed: string) => people.livedWith(watch, yearSeed),
    asSeen: people.asSeen,
  };
  const tallyOf = (from: UsageProfile, name: string, count: number) => {
    const draw = yearWorlds({ ...habits, profile: from });
    const worldOf = (year: number) => draw(name, year);
    const device = { program, timing: deviceTiming({}, timing), judge: required, ...lived };
    return tallyYears({ ...device, seed: name, worldOf }, 0, count);
  };
  const resamples = resampleCount(profile);
  const each = yearsOfResample(years, resamples);
  const resampledYears = Array.from({ length: resamples }, (_, index) =>
    tallyOf(resampled(profile, index), `${seed} resample ${String(index)}`, each),
  );
  const estimated = estimateOf(tallyOf(profile, seed, years), confidence, resampledYears);
  return withEvidence(estimated, evidenceOf(profile, required.leaveOpenAfterMs));
}
