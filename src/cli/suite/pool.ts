// Runs the cases of a suite: a few one after the other, many on several cores.
import { invariant } from '../../base/index.js';
import type { Io } from '../host/io.js';
import { coreCount, openWorkers, workerFile } from '../host/workers.js';
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
    return runInWorkers(tasks, filename, onDone);
  }
  const watches: Watches = new Map();
  const cases: SuiteCase[] = [];
  for (const task of tasks) {
    cases.push(await runCase(task, io, watches, play));
    onDone();
  }
  return cases;
}

async function runInWorkers(
  tasks: readonly CaseTask[],
  filename: string,
  onDone: () => void,
): Promise<SuiteCase[]> {
  const workers = await openWorkers(filename, {
    count: coreCount(),
    tasksHeld: 2,
    youngGenerationMb: 64,
  });
  try {
    const running = tasks.map(async (task): Promise<SuiteCase> => {
      const done = await workers.run(task);
      invariant(isCaseOf(task, done), 'a worker answers with the case it was given', { task });
      onDone();
      return done;
    });
    return await Promise.all(running);
  } finally {
    await workers.end();
  }
}

function isCaseOf(task: CaseTask, value: unknown): value is SuiteCase {
  if (typeof value !== 'object' || value === null) return false;
  return 'path' in value && value.path === task.path && 'result' in value && 'tookMs' in value;
}
