// The whole trace of a run as NDJSON, in stretches: each is the same run again, recorded only there, so that a
// long trace never stands in memory as a whole.

import { localTime, type Timeline } from '../../scenarios/index.js';
import { type Experiment, simulate } from '../../sim/index.js';
import { traceLine } from './trace-line.js';

/** About so many wakes are recorded at a time. */
const wakesAtOnce = 50_000;

export function* traceLines(of: {
  readonly experiment: Experiment;
  readonly timeline: Timeline;
  readonly wakes: number;
}): Generator<string> {
  const { experiment, timeline, wakes } = of;
  const { lengthMs } = experiment.world;
  const stretches = Math.max(1, Math.ceil(wakes / wakesAtOnce));
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  for (let index = 0; index < stretches; index += 1) {
    const fromMs = Math.floor((lengthMs * index) / stretches);
    const toMs = Math.floor((lengthMs * (index + 1)) / stretches);
    const trace = simulate(experiment, { record: [[fromMs, toMs]] });
    for (const wake of trace.wakes) {
      // A stretch also records a wake that reaches into it: that one was written before.
      if (wake.wakeMs >= fromMs && wake.wakeMs < toMs) yield traceLine(wake, moments);
    }
  }
}
