// A timeline of a page, run and judged again: the same experiment gives the same.

import { type Scene, sceneOf } from '../chart/index.js';
import { mostReportReasons } from '../model/index.js';
import { peopleOf, type Timeline, type WatchFile } from '../scenarios/index.js';
import { compileWatch, simulate } from '../sim/index.js';
import { explain, judge } from '../verdict/index.js';

export function sceneOfRun(timeline: Timeline, watchFile: WatchFile): Scene {
  const { timing, world, seed } = timeline;
  const experiment = {
    program: compileWatch(watchFile.watch),
    timing,
    world,
    seed,
    ...peopleOf(timeline, watchFile),
  };
  const trace = simulate(experiment, { record: 'all' });
  const verdict = judge(world.openings, trace, watchFile.judge, timeline.logged?.unavailable);
  const explanations = explain({
    experiment,
    verdict,
    asked: watchFile.judge,
    limit: mostReportReasons,
  });
  return sceneOf({ timeline, trace, verdict, watchFile }, explanations);
}
