// Every phase of a device of which the watch file gives ranges: on average over the range of the clock error, and over several
// series of the times that vary from wake to wake. One value of a range, picked at random, would be the answer for one device.
import { greatestOf, itemAt, leastOf, ppm, trueMs } from '../base/index.js';
import {
  fewestPhaseRuns,
  mostPhaseRuns,
  openingsOfPhaseRuns,
  type Requirements,
} from '../model/index.js';
import type { Experiment } from '../sim/index.js';
import type { DeviceTiming } from '../world/index.js';
import { type EveryPhaseOptions, everyPhase as everyPhaseOnce } from './every-phase.js';
import { phaseLengthOf } from './phase-length.js';
import type { EveryPhase, OpeningAtEveryPhase, PhaseSummary } from './tally.js';

/**
 * A timeline at every phase of the checks. Where the timing has ranges, it is the mean of runs spread over them; no seed changes it.
 * @returns null beyond `mostSteps`, which all runs share.
 */
export function everyPhase(
  experiment: Experiment,
  required: Requirements,
  options: EveryPhaseOptions = {},
): EveryPhase | null {
  if (!hasRanges(experiment.timing)) return everyPhaseOnce(experiment, required, options);
  const count = runCount(experiment);
  const { mostSteps = Number.POSITIVE_INFINITY } = options;
  const found: EveryPhase[] = [];
  for (const run of runsOf(experiment, count)) {
    const every = everyPhaseOnce(run, required, {
      ...options,
      mostSteps: mostSteps / count,
      runs: count,
    });
    if (every === null) return null;
    found.push(every);
  }
  return meanOf(found, experiment, options);
}

/** Whether the timing has a range of which one value, or one series, would be picked with a seed. */
export function hasRanges({ clockError, bootTime, connectTime }: DeviceTiming): boolean {
  return isClockRange(clockError) || bootTime.kind === 'range' || connectTime.kind === 'range';
}

function isClockRange(error: DeviceTiming['clockError']): boolean {
  return error.kind === 'drawn' && error.leastPpm !== error.greatestPpm;
}

/** By the openings alone, so that each command that judges a log gives the same values. */
function runCount({ world }: Experiment): number {
  const affordable = Math.floor(openingsOfPhaseRuns / Math.max(1, world.openings.fromMs.length));
  return Math.max(fewestPhaseRuns, Math.min(mostPhaseRuns, affordable));
}

/** The clock error of each is the middle of one of as many equal parts of its range. */
function runsOf(experiment: Experiment, count: number): readonly Experiment[] {
  const { timing } = experiment;
  const { clockError } = timing;
  return Array.from({ length: count }, (_, run): Experiment => {
    const seed = `every phase ${String(run)}`;
    if (clockError.kind !== 'drawn') return { ...experiment, seed };
    const { leastPpm, greatestPpm } = clockError;
    const middle = leastPpm + ((run + 0.5) / count) * (greatestPpm - leastPpm);
    // One step is one error for good, on a device that does not know it.
    const steps = [{ fromMs: trueMs(0), ppm: ppm(Math.round(middle)) }];
    return { ...experiment, seed, timing: { ...timing, clockError: { kind: 'curve', steps } } };
  });
}

function meanOf(
  found: readonly EveryPhase[],
  experiment: Experiment,
  options: EveryPhaseOptions,
): EveryPhase {
  const { lengthMs } = phaseLengthOf(experiment);
  const mean = (of: (one: EveryPhase) => number): number =>
    found.reduce((sum, one) => sum + of(one), 0) / found.length;
  const sumOf = (name: keyof PhaseSummary): number => mean(({ summary }) => summary[name]);
  return {
    summary: {
      expectedMissed: sumOf('expectedMissed'),
      expectedLate: sumOf('expectedLate'),
      expectedFalseAlarms: sumOf('expectedFalseAlarms'),
      falseAlarmShare: sumOf('falseAlarmShare'),
      phaseLengthMs: lengthMs,
    },
    isAbout: true,
    runs: found.length,
    ...judgedOf(found),
    firstPowerOnMs: options.wasRunning === true ? -lengthMs : itemAt(found, 0).firstPowerOnMs,
    openingAt: (index) => meanOpening(found.map((one) => one.openingAt(index))),
  };
}

/** How many phases were judged in all, where some runs judged a part of theirs. */
function judgedOf(found: readonly EveryPhase[]): Pick<EveryPhase, 'judged'> {
  if (found.every(({ judged }) => judged === undefined)) return {};
  const judgedIn = ({ judged, summary }: EveryPhase): number => judged ?? summary.phaseLengthMs;
  return { judged: found.reduce((sum, one) => sum + judgedIn(one), 0) };
}

/** An opening that is unknown in a run is neither reported nor missed in it. */
function meanOpening(each: readonly OpeningAtEveryPhase[]): OpeningAtEveryPhase {
  const share = (of: (one: OpeningAtEveryPhase) => number | null): number | null =>
    each.every((one) => of(one) === null)
      ? null
      : each.reduce((sum, one) => sum + (of(one) ?? 0), 0) / each.length;
  const delays = (of: (one: OpeningAtEveryPhase) => number | null): readonly number[] =>
    each.flatMap((one) => of(one) ?? []);
  const least = delays((one) => one.leastDelayMs);
  const greatest = delays((one) => one.greatestDelayMs);
  return {
    reportedShare: share((one) => one.reportedShare),
    inTimeShare: share((one) => one.inTimeShare),
    missedShare: share((one) => one.missedShare),
    cutOffShare: share((one) => one.cutOffShare),
    unpoweredShare: share((one) => one.unpoweredShare),
    falseAlarmShare: share((one) => one.falseAlarmShare) ?? 0,
    unknownShare: share((one) => one.unknownShare) ?? 0,
    leastDelayMs: least.length === 0 ? null : leastOf(least),
    greatestDelayMs: greatest.length === 0 ? null : greatestOf(greatest),
  };
}
