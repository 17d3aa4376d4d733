// A log through the watch at many phases of its checks: what it holds on average over the phases, day by day, so that an
// interval can follow from how the days differ.
import { dayMs, invariant, trueMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { type Program, simulate } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import { type DeviceTiming, idealContactEdges, noSpans, type Spans } from '../world/index.js';
import { type WeightedSum } from './weighted.js';

export interface LogThroughWatch {
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly judge: Requirements;
  readonly openings: Spans;
  readonly lengthMs: number;
  /** Spans of which nothing is known; absent: none. */
  readonly unseen?: Spans | undefined;
  /** How many phases, evenly spread over the time from one check to the next. */
  readonly phases: number;
  /** The time from one check to the next. */
  readonly periodMs: number;
}

export interface OverPhases {
  readonly falseAlarms: WeightedSum;
  readonly missed: WeightedSum;
}

/** Expected counts over the phases. */
export function overPhases(log: LogThroughWatch): OverPhases {
  const { periodMs, phases, program, timing, lengthMs } = log;
  invariant(phases >= 1, 'there is a phase', { phases });
  const days = Math.ceil(lengthMs / dayMs) + 2;
  const falseAlarms = new Float64Array(days);
  const missed = new Float64Array(days);
  // The device has been running for up to one period when the log begins.
  const openings = later(log.openings, periodMs);
  const unseen = later(log.unseen ?? noSpans, periodMs);
  const world = {
    lengthMs: trueMs(lengthMs + periodMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
  };
  for (let phase = 0; phase < phases; phase += 1) {
    const powerOnAtMs = trueMs(Math.floor(((phase + 0.5) * periodMs) / phases));
    const experiment = {
      program,
      timing,
      world: { ...world, powerOnAtMs },
      seed: `phase ${String(phase)}`,
    };
    const verdict = judge(openings, simulate(experiment, { record: 'none' }), log.judge, unseen);
    for (const alert of verdict.alerts) {
      if (alert.kind === 'false') add(falseAlarms, alert.decidedMs, phases);
    }
    if (verdict.summary.missed === 0) continue;
    for (const index of verdict.openings.leaveOpens) {
      if (verdict.openings.at(index).outcome === 'missed')
        add(missed, openings.fromMs[index] ?? 0, phases);
    }
  }
  // A part of a day at the end may hold all of that day's openings: it counts as a day.
  const of = (perDay: Float64Array) => weighted(perDay, Math.max(1, Math.ceil(lengthMs / dayMs)));
  return { falseAlarms: of(falseAlarms), missed: of(missed) };
}

function later({ fromMs, toMs }: Spans, byMs: number): Spans {
  return { fromMs: fromMs.map((ms) => ms + byMs), toMs: toMs.map((ms) => ms + byMs) };
}

function add(perDay: Float64Array, atMs: number, phases: number): void {
  const day = Math.floor(atMs / dayMs);
  perDay[day] = (perDay[day] ?? 0) + 1 / phases;
}

/** The days are as good as independent: so the variance of their sum is what they vary by, times their number. */
function weighted(perDay: Float64Array, days: number): WeightedSum {
  const sum = perDay.reduce((total, value) => total + value, 0);
  const squares = perDay.reduce((total, value) => total + value * value, 0);
  const centred = days > 1 ? (squares - (sum * sum) / days) * (days / (days - 1)) : squares;
  return { sum, variance: Math.max(centred, 0), one: 1 };
}
