// Runs the cases of a suite: a few one after the other, many on several cores.
import type { Io } from '../host/io.js';
import { coreCount, runInWorkers, workerFile } from '../host/workers.js';
import type { SuiteCase } from './case.js';
import { type CaseTask, type Play, runCase, type Watches } from './run-case.js';

/** A worker takes about as long to start as a hundred ordinary scenarios take to replay. */
const worthWorkers = 200;

/** @returns what became of each task, in the order of the tasks. `onDone` is called after each of them. */
export async function runCases(
  tasks: readonly CaseTask[],
  io: Io,
  { onDone, play }: { readonly onDone: () => void; readonly play?: Play | undefined },
): Promise<readonly SuiteCase[]> {
  const filename = workerFile('suite');
  if (play === undefined && tasks.length >= worthWorkers && coreCount() > 1 && filename !== null) {
    const threads = { count: coreCount(), tasksHeld: 2, youngGenerationMb: 64 };
    return runInWorkers(filename, tasks, { ...threads, isAnswer: isCaseOf, onDone });
  }
  const watches: Watches = new Map();
  const cases: SuiteCase[] = [];
  for (const task of tasks) {
    cases.push(await runCase(task, io, watches, play));
    onDone();
  }
  return cases;
}

function isCaseOf(task: CaseTask, value: unknown): value is SuiteCase {
  if (typeof value !== 'object' || value === null) return false;
  return 'path' in value && value.path === task.path && 'result' in value && 'tookMs' in value;
}
