// Lives the years of many settings, on several cores where that pays. The settings of a task share their years, and
// which task ran where changes nothing.
import { setImmediate } from 'node:timers/promises';
import { pushAll } from '../../base/index.js';
import type { Lived, Tuned } from '../../tune/index.js';
import { coreCount, runInWorkers, workerFile } from '../host/workers.js';
import { type Compiled, runTuneTask, type TuneTask } from './task.js';

const settingsAtOnce = 20;

/** Starting workers takes about as long as so many settings times years. */
const worthWorkers = 3_000;

export interface TuneRun extends TuneTask {
  /** Threads; undefined: one a core. */
  readonly jobs: number | undefined;
  readonly halt: AbortSignal;
  readonly onDone: (settings: number) => void;
}

/** @returns the years of each of the settings, in their order; null when halted. */
export async function liveOnCores(run: TuneRun): Promise<readonly Lived[] | null> {
  const { question, habits, settings, resamples, jobs, halt, onDone } = run;
  const filename = workerFile('tune');
  const threads = jobs ?? coreCount();
  const tasks = chunked(settings).map(
    (some): TuneTask => ({ question, habits, settings: some, resamples }),
  );
  const isWorthIt = settings.length * (question.years + resamples) >= worthWorkers;
  if (threads < 2 || !isWorthIt || filename === null) {
    const lived: Lived[] = [];
    const compiled: Compiled = new Map();
    for (const task of tasks) {
      // Lets an interrupt be heard, and progress be shown.
      await setImmediate();
      if (halt.aborted) return null;
      pushAll(lived, runTuneTask(task, compiled));
      onDone(task.settings.length);
    }
    return lived;
  }
  const halted = new Promise<null>((resolve) => {
    halt.addEventListener('abort', () => resolve(null), { once: true });
  });
  const work = { count: threads, tasksHeld: 1, youngGenerationMb: 64, isAnswer: isLives };
  const done = (task: TuneTask): void => onDone(task.settings.length);
  const lives = await runInWorkers(filename, tasks, { ...work, onDone: done }, halted);
  return lives?.flat() ?? null;
}

function chunked(settings: readonly Tuned[]): readonly (readonly Tuned[])[] {
  const count = Math.ceil(settings.length / settingsAtOnce);
  return Array.from({ length: count }, (_, index) =>
    settings.slice(index * settingsAtOnce, (index + 1) * settingsAtOnce),
  );
}

function isLives({ settings }: TuneTask, value: unknown): value is readonly Lived[] {
  return Array.isArray(value) && value.length === settings.length;
}
