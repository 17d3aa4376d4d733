// Runs the cases of a suite: a few one after the other, many on several cores.
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { invariant } from '../../base/index.js';
import type { Io } from '../host/io.js';
import type { SuiteCase } from '../present/suite-case.js';
import { type CaseTask, type Play, runCase, type Watches } from './run-case.js';

/** A worker takes about as long to start as a hundred ordinary scenarios take to replay. */
const worthWorkers = 200;

/** @returns what became of each task, in the order of the tasks. `onDone` is called after each of them. */
export async function runCases(
  tasks: readonly CaseTask[],
  io: Io,
  { onDone, play }: { readonly onDone: () => void; readonly play?: Play | undefined },
): Promise<readonly SuiteCase[]> {
  // Built, the worker lies beside this file; run from its source there is none.
  const worker = fileURLToPath(new URL('./suite-worker.js', import.meta.url));
  const cores = availableParallelism();
  if (play === undefined && tasks.length >= worthWorkers && cores > 1 && existsSync(worker)) {
    return runInWorkers(tasks, { filename: worker, cores }, onDone);
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
  on: { readonly filename: string; readonly cores: number },
  onDone: () => void,
): Promise<SuiteCase[]> {
  const { Tinypool } = await import('tinypool');
  const { filename, cores } = on;
  const pool = new Tinypool({ filename, name: 'runTask', minThreads: cores, maxThreads: cores });
  try {
    const running = tasks.map(async (task): Promise<SuiteCase> => {
      const done: unknown = await pool.run(task);
      invariant(isCaseOf(task, done), 'a worker answers with the case it was given', { task });
      onDone();
      return done;
    });
    return await Promise.all(running);
  } finally {
    await pool.destroy();
  }
}

function isCaseOf(task: CaseTask, value: unknown): value is SuiteCase {
  if (typeof value !== 'object' || value === null) return false;
  return 'path' in value && value.path === task.path && 'result' in value && 'tookMs' in value;
}
