// A run of the search, run again in the simulator: what the simulator shows counts.
import { simulate } from '../../sim/index.js';
import { type JudgedAlert, judge } from '../../verdict/index.js';
import type { RunWorld } from '../answer.js';
import type { BoundsQuestion } from '../question.js';

/** What happens to the last opening of a world. */
export interface Replayed {
  readonly opening: number;
  /** From its start to the first alert decided in it; null: none is. */
  readonly decidedAfterMs: number | null;
  /** From its start to the first delivery of an alert of its own. */
  readonly deliveredAfterMs: number | null;
  readonly alerts: readonly JudgedAlert[];
}

export function replay({ program, judge: asked }: BoundsQuestion, experiment: RunWorld): Replayed {
  const { world, timing } = experiment;
  const trace = simulate({ program, timing, world, seed: '' }, { record: 'none' });
  const { openings, alerts } = judge(world.openings, trace, asked);
  const opening = openings.count - 1;
  const first = alerts.find((alert) => alert.opening === opening);
  const { fromMs, delayMs } = openings.at(opening);
  return {
    opening,
    decidedAfterMs: first === undefined ? null : first.decidedMs - fromMs,
    deliveredAfterMs: delayMs,
    alerts,
  };
}
