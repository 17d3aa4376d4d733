// Every phase by one run each: for timelines in which the charge may end, which is at another instant at each phase.
import { cellAt, trueMs } from '../base/index.js';
import { fewestFlatPhases, mostFlatPhaseSteps, type Requirements } from '../model/index.js';
import { type Experiment, simulate } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import type { Spans } from '../world/index.js';
import { type EveryPhase, sharesOf } from './tally.js';

interface OneByOne {
  readonly firstPowerOnMs: number;
  readonly phases: number;
  readonly isAbout: boolean;
  readonly mostSteps: number;
  readonly unavailable: Spans | undefined;
  /** How many such questions share the time. */
  readonly runs: number;
}

/** @returns null where that would take more than `mostSteps`, an opening of a run being a step. */
export function oneByOne(
  experiment: Experiment,
  required: Requirements,
  on: OneByOne,
): EveryPhase | null {
  const { world } = experiment;
  const { firstPowerOnMs, phases: all, isAbout, mostSteps, unavailable } = on;
  const count = world.openings.fromMs.length;
  if (all * (count + 1) > mostSteps) return null;
  const phases = affordable(experiment, all, on.runs);
  const columns = () => new Float64Array(count);
  const [reported, inTime, missed, unpowered] = [columns(), columns(), columns(), columns()];
  const [brief, unknown, cut] = [columns(), columns(), columns()];
  const least = columns().fill(Number.POSITIVE_INFINITY);
  const greatest = columns().fill(Number.NEGATIVE_INFINITY);
  const sums = { missed: 0, late: 0, falseAlarms: 0, alarmed: 0 };
  for (let phase = 0; phase < phases; phase += 1) {
    // Evenly spread; each of them where all are judged.
    const powerOnAtMs = trueMs(firstPowerOnMs + Math.floor(((phase + 0.5) * all) / phases));
    const trace = simulate({ ...experiment, world: { ...world, powerOnAtMs } }, { record: 'none' });
    const { summary, openings, cutOff } = judge(world.openings, trace, required, unavailable);
    if (cutOff !== undefined && openings.at(cutOff).outcome === 'missed') add(cut, cutOff);
    sums.missed += summary.missed;
    sums.late += summary.late;
    sums.falseAlarms += summary.falseAlarms;
    if (summary.falseAlarms > 0) sums.alarmed += 1;
    for (let index = 0; index < count; index += 1) {
      const { outcome, delayMs } = openings.at(index);
      if (outcome === 'brief') add(brief, index);
      if (outcome === 'unknown') add(unknown, index);
      if (outcome === 'unpowered') add(unpowered, index);
      if (outcome === 'missed' || outcome === 'unpowered') add(missed, index);
      if (delayMs === null) continue;
      add(reported, index);
      if (delayMs <= (required.reportWithinMs ?? delayMs)) add(inTime, index);
      least[index] = Math.min(cellAt(least, index), delayMs);
      greatest[index] = Math.max(cellAt(greatest, index), delayMs);
    }
  }
  return {
    summary: {
      expectedMissed: sums.missed / phases,
      expectedLate: sums.late / phases,
      expectedFalseAlarms: sums.falseAlarms / phases,
      falseAlarmShare: sums.alarmed / phases,
      phaseLengthMs: all,
    },
    isAbout,
    ...(phases < all ? { judged: phases } : {}),
    firstPowerOnMs,
    openingAt: (index) =>
      sharesOf(
        {
          reported: cellAt(reported, index),
          inTime: cellAt(inTime, index),
          missed: cellAt(missed, index),
          cutOff: cellAt(cut, index),
          unknown: cellAt(unknown, index),
          isBrief: cellAt(brief, index) > 0,
          leastDelayMs: cellAt(least, index),
          greatestDelayMs: cellAt(greatest, index),
        },
        phases,
        cellAt(unpowered, index),
      ),
  };
}

/** How many phases can be judged in the time that there is. */
function affordable({ world, program, timing }: Experiment, phases: number, runs: number): number {
  // Wakes of one length are stepped over; others are made one by one.
  const areSteady = timing.bootTime.kind === 'fixed';
  const wakes = areSteady ? 0 : world.lengthMs / program.watch.checkIntervalMs;
  const steps = world.openings.fromMs.length + 1 + wakes;
  const most = Math.floor(mostFlatPhaseSteps / runs / steps);
  return Math.min(phases, Math.max(fewestFlatPhases, most));
}

function add(column: Float64Array, index: number): void {
  column[index] = cellAt(column, index) + 1;
}
