// One thing to try on a watch: a door, what befalls the device meanwhile, and how its times turn out. Plain
// numbers, so that it can be made smaller and rounder, and written down as a scenario.
import { trueMs } from '../base/index.js';
import {
  type ContactFault,
  type ContactSettings,
  type DeviceTiming,
  idealContactEdges,
  type ResetEffect,
  spansOf,
  type World,
  withBounce,
  withFaults,
} from '../world/index.js';

/** From an instant up to, and without, another; `Infinity` for one that never ends. */
export type Stretch = readonly [fromMs: number, toMs: number];

export interface Trial {
  readonly lengthMs: number;
  /** Openings, ascending, with the door shut between them. */
  readonly door: readonly Stretch[];
  readonly outages: readonly Stretch[];
  readonly powerCuts: readonly Stretch[];
  /** Ascending, no two alike. */
  readonly resetsMs: readonly number[];
  /** What every reset of it is; absent: by button, keeping memory. */
  readonly reset?: ResetEffect;
  /** Ascending, without overlap. */
  readonly misreads: readonly ContactFault[];
  /** Without ranges: every time that is drawn elsewhere is written out here. */
  readonly timing: DeviceTiming;
}

/** What ends beyond the timeline does not end. */
export function clipped(trial: Trial): Trial {
  const { lengthMs } = trial;
  const clip = (stretches: readonly Stretch[]): Stretch[] =>
    stretches
      .filter(([fromMs]) => fromMs < lengthMs)
      .map(([fromMs, toMs]) => [fromMs, toMs > lengthMs ? Number.POSITIVE_INFINITY : toMs]);
  return {
    ...trial,
    door: clip(trial.door),
    outages: clip(trial.outages),
    powerCuts: clip(trial.powerCuts),
    resetsMs: trial.resetsMs.filter((atMs) => atMs < lengthMs),
    misreads: trial.misreads
      .filter(({ fromMs }) => fromMs < lengthMs)
      .map((fault) => ({ ...fault, toMs: trueMs(Math.min(fault.toMs, lengthMs)) })),
  };
}

/** The seed of everything that a world still draws: the readings of a chattering contact. */
export const trialSeed = '1';

/** The world of a trial; every opening is wide. @param contact of the watch file; null: ideal. */
export function worldOf(trial: Trial, contact: ContactSettings | null): World {
  const openings = spansOf(trial.door);
  const edges = idealContactEdges(openings);
  const bounced = contact === null ? edges : withBounce(edges, contact.bounceMs);
  return {
    lengthMs: trueMs(trial.lengthMs),
    openings,
    contact: withFaults(bounced, trial.misreads, trialSeed),
    networkDown: spansOf(trial.outages),
    powerLost: spansOf(trial.powerCuts),
    resetsMs: Float64Array.from(trial.resetsMs),
    ...(trial.reset === undefined ? {} : { resetEffects: sameResets(trial.reset, trial.resetsMs) }),
    powerOnAtMs: trueMs(0),
  };
}

function sameResets(reset: ResetEffect, resetsMs: readonly number[]): readonly ResetEffect[] {
  return resetsMs.map(() => reset);
}
