// A timeline of a page, run and judged again: the same experiment gives the same.

import { type Scene, sceneOf } from '../chart/index.js';
import { mostReportReasons } from '../model/index.js';
import { experimentOf, type Timeline, type WatchFile } from '../scenarios/index.js';
import { compileWatch, simulate } from '../sim/index.js';
import { explain, judge } from '../verdict/index.js';

export function sceneOfRun(timeline: Timeline, watchFile: WatchFile): Scene {
  const { world } = timeline;
  const program = compileWatch(watchFile.watch);
  const experiment = experimentOf(timeline, { program, watchFile });
  const trace = simulate(experiment, { record: 'all' });
  const verdict = judge(world.openings, trace, watchFile.judge, timeline.logged?.unseen);
  const explanations = explain({
    experiment,
    verdict,
    asked: watchFile.judge,
    limit: mostReportReasons,
  });
  return sceneOf({ timeline, trace, verdict, watchFile }, explanations);
}
