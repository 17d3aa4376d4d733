// Every phase by one run each: for timelines in which the charge may end, which is at another instant at each phase.
import { cellAt, trueMs } from '../base/index.js';
import { fewestFlatPhases, mostFlatPhaseSteps, type Requirements } from '../model/index.js';
import { type Experiment, simulate } from '../sim/index.js';
import { type JudgedAlert, judge } from '../verdict/index.js';
import type { Spans } from '../world/index.js';
import { type EveryPhase, type OpeningAtEveryPhase, sharesOf } from './tally.js';

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
  const columns = columnsFor(count);
  const { reported, inTime, missed, unpowered, brief, unknown, cut, falsely } = columns;
  const { least, greatest } = columns;
  const sums = { missed: 0, late: 0, falseAlarms: 0, alarmed: 0 };
  for (let phase = 0; phase < phases; phase += 1) {
    // Evenly spread; each of them where all are judged.
    const powerOnAtMs = trueMs(firstPowerOnMs + Math.floor(((phase + 0.5) * all) / phases));
    const trace = simulate({ ...experiment, world: { ...world, powerOnAtMs } }, { record: 'none' });
    const { summary, openings, alerts, cutOff } = judge(
      world.openings,
      trace,
      required,
      unavailable,
    );
    if (cutOff !== undefined && openings.at(cutOff).outcome === 'missed') add(cut, cutOff);
    for (const one of falselyFor(alerts)) add(falsely, one);
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
    openingAt: (index) => openingOf(columns, index, phases),
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

function columnsFor(count: number) {
  const column = () => new Float64Array(count);
  return {
    reported: column(),
    inTime: column(),
    missed: column(),
    unpowered: column(),
    brief: column(),
    unknown: column(),
    cut: column(),
    falsely: column(),
    least: column().fill(Number.POSITIVE_INFINITY),
    greatest: column().fill(Number.NEGATIVE_INFINITY),
  };
}

function openingOf(
  columns: ReturnType<typeof columnsFor>,
  index: number,
  phases: number,
): OpeningAtEveryPhase {
  const at = (column: Float64Array): number => cellAt(column, index);
  const counts = {
    reported: at(columns.reported),
    inTime: at(columns.inTime),
    missed: at(columns.missed),
    cutOff: at(columns.cut),
    unknown: at(columns.unknown),
    isBrief: at(columns.brief) > 0,
    leastDelayMs: at(columns.least),
    greatestDelayMs: at(columns.greatest),
  };
  return sharesOf(counts, phases, {
    falsely: at(columns.falsely),
    unpowered: at(columns.unpowered),
  });
}

/** The openings of false alarms. */
function falselyFor(alerts: readonly JudgedAlert[]): readonly number[] {
  return alerts.flatMap(({ kind, opening }) => (kind === 'false' ? (opening ?? []) : []));
}

function add(column: Float64Array, index: number): void {
  column[index] = cellAt(column, index) + 1;
}
