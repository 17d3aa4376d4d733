// A door that is only ever opened briefly, in the rhythm of a watch.
import { trueMs } from '../../../src/base/index.js';
import { type BoundsQuestion, timesOf } from '../../../src/bounds/index.js';
import { simulate } from '../../../src/sim/index.js';
import { judge } from '../../../src/verdict/index.js';
import { idealContactEdges, spansOf, type World } from '../../../src/world/index.js';
import type { Draw } from './draw.js';
import { timingWithin } from './samples.js';

/** How many alerts come of some brief openings, where nothing goes wrong. */
export function alertsOfBriefs(question: BoundsQuestion, draw: Draw): number {
  const { program, timing, judge: asked } = question;
  const { sleeps, bootMs, connectMs } = timesOf(program.watch, timing);
  const periodMs = Math.max(sleeps[0].mostMs, sleeps[1].mostMs) + bootMs.most + connectMs.most;
  const mostMs = Math.min(asked.leaveOpenAfterMs - 1, 20 * periodMs);
  const spans: [number, number][] = [];
  let atMs = draw.whole(1, 4 * periodMs);
  for (let left = 12; left > 0; left -= 1) {
    const openMs = draw.pick([mostMs, mostMs, draw.whole(1, mostMs)]);
    spans.push([atMs, atMs + openMs]);
    atMs += openMs + draw.pick([1, 1, draw.whole(1, periodMs), draw.whole(1, 3 * periodMs)]);
  }
  const openings = spansOf(spans);
  const world: World = {
    lengthMs: trueMs(atMs + 5 * periodMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: spansOf([]),
    powerLost: spansOf([]),
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const experiment = { program, timing: timingWithin(timing, draw), world, seed: 'laws' };
  return judge(openings, simulate(experiment, { record: 'none' }), asked).summary.alerts;
}
