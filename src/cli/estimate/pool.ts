// Runs the years of an estimate in stretches, on several cores where that pays. Tallies are joined in the order of
// the years, whichever is done first: when a run stops early, it stops after the same year on any machine.
import { setImmediate } from 'node:timers/promises';
import { invariant } from '../../base/index.js';
import { emptyTally, join, type Tally } from '../../estimate/index.js';
import { onInterrupt } from '../host/interrupt.js';
import { coreCount, openWorkers, workerFile } from '../host/workers.js';
import { type EstimateQuestion, type EstimateTask, estimateYears, type Sources } from './task.js';

/** Years between two looks at the precision reached, and of one task of a worker. */
const yearsAtOnce = 100;

/** Starting workers takes about as long as so many years. */
const worthWorkers = 500;

export type StoppedBy = 'years' | 'precision' | 'interrupt';

/** Resamples of a profile, each with its years: those from `from` to before `to`. */
export interface ResampleRange {
  readonly from: number;
  readonly to: number;
  readonly years: number;
}

export interface EstimateRun {
  readonly question: EstimateQuestion;
  readonly from: number;
  readonly to: number;
  readonly resamples: ResampleRange;
  /** Called after each stretch. True ends the run. */
  readonly precise: (tally: Tally) => boolean;
  readonly onDone: (share: number) => void;
}

/** What simulates the years: this thread, or workers. */
export interface Runner {
  /** Tasks that are worth giving out at once. */
  readonly room: number;
  /** Years of a task: a divisor of the years between two looks at the precision. */
  readonly stride: number;
  readonly run: (task: EstimateTask) => Promise<Tally>;
  readonly end: () => Promise<void>;
}

export interface EstimateDone {
  readonly tally: Tally;
  /** One for each resample; none when the run was interrupted. */
  readonly resamples: readonly Tally[];
  readonly stoppedBy: StoppedBy;
}

/** @returns the tally of the years done, without gaps from the first on, and why there are no more. */
export async function runEstimate(run: EstimateRun, runner: Runner): Promise<EstimateDone> {
  let release = (): void => undefined;
  const interrupted = new Promise<null>((resolve) => {
    release = onInterrupt(() => resolve(null));
  });
  try {
    const done = await inOrder(run, runner, interrupted);
    if (done.stoppedBy === 'interrupt') return { ...done, resamples: [] };
    const resamples = await resampledYears(run, runner, interrupted);
    return resamples === null
      ? { ...done, resamples: [], stoppedBy: 'interrupt' }
      : { ...done, resamples };
  } finally {
    release();
  }
}

/** Null: interrupted. */
async function resampledYears(
  { question, resamples, onDone }: EstimateRun,
  runner: Runner,
  interrupted: Promise<null>,
): Promise<readonly Tally[] | null> {
  const { from, to, years } = resamples;
  const tallies: Tally[] = [];
  const running: Promise<Tally>[] = [];
  for (let next = from; tallies.length < to - from; ) {
    while (running.length < runner.room && next < to) {
      const task = runner.run({ question, resample: next, from: 0, to: years });
      task.catch(() => undefined);
      running.push(task);
      next += 1;
    }
    const done = await Promise.race([running.shift() ?? null, interrupted]);
    if (done === null) return null;
    tallies.push(done);
    onDone(1);
  }
  return tallies;
}

async function inOrder(run: EstimateRun, runner: Runner, interrupted: Promise<null>) {
  const tally = emptyTally();
  const running: Promise<Tally>[] = [];
  let next = run.from;
  for (;;) {
    while (running.length < runner.room && next < run.to) {
      const to = Math.min(run.to, next + runner.stride);
      const task = runner.run({ question: run.question, resample: null, from: next, to });
      // Those still running when the estimate ends are ended with their workers.
      task.catch(() => undefined);
      running.push(task);
      next = to;
    }
    const first = running.shift();
    if (first === undefined) return { tally, stoppedBy: 'years' as const };
    const done = await Promise.race([first, interrupted]);
    if (done === null) return { tally, stoppedBy: 'interrupt' as const };
    join(tally, done);
    const whole = run.to - run.from;
    run.onDone(tally.years / whole);
    const isLook = tally.years % yearsAtOnce === 0 || tally.years === whole;
    if (isLook && run.precise(tally)) return { tally, stoppedBy: 'precision' as const };
  }
}

/**
 * Opened before the files are read: workers start meanwhile.
 * @param jobs threads; null: one a core.
 */
export async function openRunner(years: number, jobs: number | null): Promise<Runner> {
  const threads = jobs ?? coreCount();
  const filename = workerFile('estimate');
  if (years < worthWorkers || threads < 2 || filename === null) return runnerHere();
  const workers = await openWorkers(filename, {
    count: threads,
    tasksHeld: 2,
    youngGenerationMb: 64,
  });
  return {
    room: 3 * threads,
    stride: yearsAtOnce,
    async run(task) {
      const done = await workers.run(task);
      invariant(isTallyOf(task, done), 'a worker answers with the years it was given', { task });
      return done;
    },
    end: () => workers.end(),
  };
}

function runnerHere(): Runner {
  const sources: Sources = new Map();
  let isEnded = false;
  return {
    room: 1,
    stride: 1,
    async run(task) {
      const tally = emptyTally();
      for (const year of estimateYears(task, sources)) {
        join(tally, year);
        // Lets an interrupt be heard, and progress be shown.
        await setImmediate();
        if (isEnded) break;
      }
      return tally;
    },
    end: () => {
      isEnded = true;
      return Promise.resolve();
    },
  };
}

function isTallyOf({ from, to }: EstimateTask, value: unknown): value is Tally {
  if (typeof value !== 'object' || value === null) return false;
  return 'years' in value && value.years === to - from && 'counts' in value && 'delays' in value;
}
