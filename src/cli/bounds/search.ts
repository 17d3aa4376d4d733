// Searches for bounds, beside the command where they may take long: so it stays awake to show that it works, and to
// be interrupted.
import {
  type Bounds,
  type BoundsQuestion,
  boundsOf,
  questionOf,
  TooManyStatesError,
} from '../../bounds/index.js';
import type { LogicTable } from '../../machine/index.js';
import { clockErrorsOf } from '../../model/index.js';
import type { UsageProfile, WatchFile } from '../../scenarios/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { coreCount, runInWorkers, workerFile } from '../host/workers.js';
import { falseAlarmsPerYearAt } from './false-alarms.js';

/** Plain data: it may come from a worker. */
export type SearchOutcome =
  | {
      readonly kind: 'found';
      readonly bounds: Bounds;
      /** Of the watch as it is; null: no usage is given, or nothing can be said. */
      readonly falseAlarmsPerYear: number | null;
    }
  | { readonly kind: 'too-many-states'; readonly mostStates: number };

/** Plain data: a worker may be given it. */
export interface SearchTask {
  readonly watchFile: WatchFile;
  readonly table: LogicTable;
  /** The owner's own logic decides in place of the watch's. */
  readonly ownLogic: boolean;
  /** False: neither a file nor an option states a requirement. Default: true. */
  readonly isJudged?: boolean;
  /** How the door is used, to price remedies in false alarms. */
  readonly profile?: UsageProfile;
}

/** How often a terminal shows that the search goes on. */
const tickMs = 200;

/** The question about a watch, from its file and the options that override it. */
export function boundsQuestion(task: SearchTask): BoundsQuestion {
  return { ...questionOf(task.watchFile, task), isJudged: task.isJudged ?? true };
}

export function searchBounds(task: SearchTask): SearchOutcome {
  const { profile, watchFile } = task;
  const inYears = profile === undefined ? undefined : falseAlarmsPerYearAt({ ...task, profile });
  try {
    const bounds = boundsOf(boundsQuestion(task), inYears);
    return { kind: 'found', bounds, falseAlarmsPerYear: inYears?.(watchFile.watch) ?? null };
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    return { kind: 'too-many-states', mostStates: error.mostNodes };
  }
}

/** @returns the outcome of each search, in the order of the watches. */
export async function searchAll(
  watches: readonly SearchTask[],
  io: Io,
): Promise<readonly SearchOutcome[]> {
  const filename = workerFile('bounds');
  if (watches.every(({ watchFile }) => isQuick(watchFile)) || filename === null) {
    return watches.map(searchBounds);
  }
  const count = Math.min(watches.length, coreCount());
  const progress = openProgress(io, 'searching');
  const ticking = setInterval(() => progress.at(null), tickMs);
  try {
    return await runInWorkers(filename, watches, {
      count,
      tasksHeld: 1,
      youngGenerationMb: 16,
      onDone: () => undefined,
      isAnswer: isOutcome,
    });
  } finally {
    clearInterval(ticking);
    progress.end();
  }
}

function isOutcome(_: SearchTask, value: unknown): value is SearchOutcome {
  return typeof value === 'object' && value !== null && 'kind' in value;
}

/** Fixed times, no faults, a short memory: that is searched sooner than a worker starts. */
function isQuick({ watch, timing, environment }: WatchFile): boolean {
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = environment;
  const ranges = [timing.bootTime, timing.connectTime, clockErrorsOf(timing.clockError)];
  return (
    longestOutageMs + powerLosses + resets + longestChatterMs === 0 &&
    ranges.every(({ least, most }) => least === most) &&
    watch.wakeOn === 'timer' &&
    watch.heartbeatIntervalMs === null &&
    watch.escalationThreshold.outOf <= 3
  );
}
