// A worker of a search for settings: some of them in, their years out.
import type { Lived } from '../../tune/index.js';
import { type Compiled, runTuneTask, type TuneTask } from './task.js';

const compiled: Compiled = new Map();

export function runTask(task: TuneTask): readonly Lived[] {
  return runTuneTask(task, compiled);
}
