// One timeline met by a device at every phase: the device powers on later and later, the door stays as it is.
import { trueMs } from '../../src/base/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { simulate, type Trace } from '../../src/sim/index.js';
import { idealContactEdges, spansOf } from '../../src/world/index.js';
import { experimentOf, type Pairs, timingWith } from '../support/experiments.js';

export interface Sweep {
  readonly openings: Pairs;
  readonly lengthMs: number;
  /** When the device powers on, one instant for each run. */
  readonly phasesMs: Iterable<number>;
  readonly watch?: Partial<WatchSettings>;
  readonly timing?: ReturnType<typeof timingWith>;
}

/** Phases of a period: 0, `stepMs`, 2 `stepMs` … */
export function* phases(periodMs: number, stepMs: number): Generator<number> {
  for (let phaseMs = 0; phaseMs < periodMs; phaseMs += stepMs) yield phaseMs;
}

/** The trace of each phase, without its wakes. */
export function* sweep({ openings, watch = {}, timing, ...sizes }: Sweep): Generator<Trace> {
  const { lengthMs, phasesMs } = sizes;
  const experiment = experimentOf(
    { lengthMs, openings },
    { watch, timing: timing ?? timingWith({}) },
  );
  const door = spansOf(openings);
  const world = { ...experiment.world, openings: door, contact: idealContactEdges(door) };
  for (const phaseMs of phasesMs) {
    const late = { ...world, powerOnAtMs: trueMs(phaseMs) };
    yield simulate({ ...experiment, world: late }, { record: 'none' });
  }
}
