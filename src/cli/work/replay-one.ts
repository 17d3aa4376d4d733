// One timeline through one watch: run, judged, and held against what it expects. Wakes are not recorded here;
// whoever needs them runs the same experiment again, which gives the same.

import { type Use, useOf } from '../../battery/index.js';
import { type Timeline, type UnmetExpectation, unmetExpectations } from '../../scenarios/index.js';
import { type AlertRecord, type Experiment, simulate } from '../../sim/index.js';
import { judge, type Verdict } from '../../verdict/index.js';
import type { LoadedWatch } from './load-watch.js';

export interface Replay {
  readonly timeline: Timeline;
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly alerts: readonly AlertRecord[];
  /** Wakes of the run, recorded or not. */
  readonly wakes: number;
  /** What it means to a battery. */
  readonly use: Use;
  /** Null: the timeline expects nothing of its own. */
  readonly unmet: readonly UnmetExpectation[] | null;
}

export function replayOne(timeline: Timeline, watch: LoadedWatch): Replay {
  const { timing, world, seed, expect } = timeline;
  const experiment: Experiment = { program: watch.program, timing, world, seed };
  const trace = simulate(experiment, { record: 'none' });
  const verdict = judge(world.openings, trace, watch.watchFile.judge);
  const wakes = Object.values(trace.tally.wakes).reduce((sum, count) => sum + count, 0);
  const use = useOf(trace, world);
  const unmet = expect === null ? null : unmetExpectations(expect, verdict.summary);
  return { timeline, experiment, verdict, alerts: trace.alerts, wakes, use, unmet };
}
