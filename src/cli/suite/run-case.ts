// One scenario of a suite: replayed and compared with what it expects.
import {
  type Expectations,
  type Timeline,
  type UnmetExpectation,
  unmetExpectations,
} from '../../scenarios/index.js';
import { pickedWords } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { InputProblem } from '../problem.js';
import { type Replay, replayOne } from '../replay/one.js';
import type { SuiteCase } from './case.js';
import { reasonsOf } from './reasons.js';

/** Plain data: it may come from, and go to, a worker. */
export interface CaseTask {
  readonly path: string;
  readonly file: string;
  readonly watch: string | undefined;
  /** A machine in place of the watch's own logic. */
  readonly logic: string | undefined;
  /** The folder that relative paths start from. */
  readonly folder: string;
}

/** What a scenario without expectations must meet. */
export const heldTo: Expectations = {
  counts: (['missed', 'late', 'falseAlarms'] as const).map((name) => ({ name, least: 0, most: 0 })),
  worstDelayAtMostMs: null,
  worstDelayAtLeastMs: null,
};

/** Watch files already read, by name: most scenarios of a suite share one. */
export type Watches = Map<string | undefined, Promise<LoadedWatch>>;

/** What a timeline is played through. */
export type Play = (timeline: Timeline, watch: LoadedWatch) => Replay | Promise<Replay>;

export async function runCase(
  task: CaseTask,
  io: Io,
  watches: Watches,
  play: Play = replayOne,
): Promise<SuiteCase> {
  const started = io.elapsed();
  const result = await resultOf(task, { io, watches, play });
  return { path: task.path, result, tookMs: io.elapsed() - started };
}

async function resultOf(
  task: CaseTask,
  on: { readonly io: Io; readonly watches: Watches; readonly play: Play },
): Promise<SuiteCase['result']> {
  const { io, watches, play } = on;
  try {
    let loading = watches.get(task.watch);
    if (loading === undefined) {
      loading = loadWatch(task.watch, io, [], task.logic);
      watches.set(task.watch, loading);
    }
    const watch = await loading;
    const replay = await play(await loadTimeline(task.file, watch.watchFile, {}, io), watch);
    const { summary } = replay.verdict;
    const expects = replay.timeline.expect ?? heldTo;
    const unmet = [...firmwareUnmet(replay), ...unmetExpectations(expects, summary)];
    const reasons =
      unmet.length === 0
        ? []
        : [...reasonsOf(replay, expects, unmet), ...(replay.firmware?.deciding ?? [])];
    const { name } = replay.timeline;
    const picked = pickedWords(replay.timeline);
    const ranges = picked === null ? {} : { picked };
    const expected = replay.unmet !== null;
    return { kind: 'judged', name, summary, unmet, expects: expected, reasons, ...ranges };
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    return { kind: 'unreadable', errors: error.diagnostics };
  }
}

/** A firmware that broke fails, whatever the scenario expects. */
function firmwareUnmet({ firmware }: Replay): readonly UnmetExpectation[] {
  const failure = firmware?.failure ?? null;
  if (failure === null) return [];
  const got = `${failure.what} [${failure.kind}]`;
  return [{ name: 'firmware', wanted: 'to run to the end', got }];
}
