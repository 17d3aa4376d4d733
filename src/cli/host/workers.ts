// Threads beside this one, for work that takes longer than they take to start.
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { invariant } from '../../base/index.js';

export interface Workers {
  /** Tasks and answers are plain data. */
  run(task: unknown): Promise<unknown>;
  /** Ends them, whatever they are at. */
  end(): Promise<void>;
}

/** @returns the built worker of this name; null where there is none: it lies beside this file only once that is built. */
export function workerFile(
  name: 'bounds' | 'estimate' | 'logic' | 'suite' | 'tune',
): string | null {
  const file = fileURLToPath(new URL(`./${name}-worker.js`, import.meta.url));
  return existsSync(file) ? file : null;
}

/** One thread a core. */
export const coreCount = availableParallelism;

export interface Threads {
  readonly count: number;
  /** Tasks that each is given at once. With short tasks, 2: the next lies ready where one ends. */
  readonly tasksHeld: number;
  /**
   * Room for new objects. Simulated lives leave many that are soon forgotten: with room for them, fewer are looked at
   * twice. A search keeps what it makes, and room is only spent.
   */
  readonly youngGenerationMb: number;
}

/** How many threads, and what makes an answer one that a task can have. */
export interface Work<Task, Answer> extends Threads {
  readonly isAnswer: (task: Task, value: unknown) => value is Answer;
  readonly onDone: (task: Task) => void;
}

/**
 * Runs all tasks in threads of a worker, until `halted` is fulfilled.
 * @returns the answers in the order of the tasks, or what `halted` gives; the threads are gone by then.
 */
export async function runInWorkers<Task, Answer, Halted = never>(
  filename: string,
  tasks: readonly Task[],
  { isAnswer, onDone, ...threads }: Work<Task, Answer>,
  halted = new Promise<Halted>(() => undefined),
): Promise<readonly Answer[] | Halted> {
  const workers = await openWorkers(filename, threads);
  try {
    const running = tasks.map(async (task): Promise<Answer> => {
      const answer = await workers.run(task);
      invariant(isAnswer(task, answer), 'a worker answers the task that it was given');
      onDone(task);
      return answer;
    });
    // Those still running when it is halted are ended with their threads.
    return await Promise.race([Promise.all(running), halted]);
  } finally {
    await workers.end();
  }
}

/** Starts threads of a worker, each of which exports `runTask`. */
export async function openWorkers(
  filename: string,
  { count, tasksHeld, youngGenerationMb }: Threads,
): Promise<Workers> {
  const { Tinypool } = await import('tinypool');
  const pool = new Tinypool({
    filename,
    name: 'runTask',
    minThreads: count,
    maxThreads: count,
    concurrentTasksPerWorker: tasksHeld,
    resourceLimits: { maxYoungGenerationSizeMb: youngGenerationMb },
  });
  return { run: (task) => pool.run(task), end: () => pool.destroy() };
}
