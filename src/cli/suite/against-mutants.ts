// How good a suite is: its scenarios against faulty watches, and the states and transitions that they do not cover.

import { coverageOf, noVisits, type Visits, visit } from '../../coverage/index.js';
import { type MutantProgram, mutantPrograms, mutants } from '../../mutants/index.js';
import { unmetExpectations, writeDuration } from '../../scenarios/index.js';
import { simulate } from '../../sim/index.js';
import { judge, type Summary } from '../../verdict/index.js';
import type { Io } from '../host/io.js';
import { differenceFrom } from '../hunt/scenario.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { InputProblem } from '../problem.js';
import { replayOne } from '../replay/one.js';
import type { AgainstMutants, LeftOut, MutantFinding, Noticed } from './mutants-view.js';
import { type CaseTask, heldTo } from './run-case.js';

/** A watch of the suite, the faulty ones made from it, and what its scenarios have visited so far. */
interface WatchUnderTest {
  readonly name: string | undefined;
  readonly watch: LoadedWatch;
  readonly faulty: readonly MutantProgram[];
  readonly visits: Visits;
}

/** What the scenarios have shown of one mistake so far. */
interface Shown {
  differs: boolean;
  noticedBy: string | null;
  shownBy: string | null;
  /** What that scenario would have to expect. */
  add: string | null;
}

/**
 * Runs every scenario against every faulty watch. A scenario that fails with the sound watch, or cannot be
 * read, is left out.
 * @param onDone called after each scenario.
 */
export async function againstMistakes(
  tasks: readonly CaseTask[],
  io: Io,
  onDone: () => void,
): Promise<AgainstMutants> {
  const watches = new Map<string | undefined, WatchUnderTest>();
  const shown = new Map(
    mutants.map(({ name }): [string, Shown] => [
      name,
      { differs: false, noticedBy: null, shownBy: null, add: null },
    ]),
  );
  const leftOut: LeftOut[] = [];
  for (const task of tasks) {
    const why = await tryScenario(task, { io, watches, shown });
    if (why !== null) leftOut.push({ path: task.path, why });
    onDone();
  }
  return {
    faults: mutants.map(
      ({ name, mistake, scene }): MutantFinding => ({
        name,
        mistake,
        scene,
        ...outcomeOf(shown.get(name)),
      }),
    ),
    leftOut,
    watches: [...watches.values()].map(({ name, watch, visits, faulty }) => ({
      file: name ?? null,
      holds: watch.watchFile.watch.afterAlert === 'hold-until-reset',
      differing: faulty.filter(({ alike }) => !alike).map(({ fault }) => fault.name),
      coverage: coverageOf(watch.program, visits),
    })),
  };
}

function outcomeOf(shown: Shown | undefined): {
  readonly outcome: Noticed;
  readonly by: string | null;
  readonly add: string | null;
} {
  const none = { by: null, add: null };
  if (!shown?.differs) return { outcome: 'no-difference', ...none };
  const { noticedBy, shownBy, add } = shown;
  if (noticedBy !== null) return { outcome: 'noticed', by: noticedBy, add: null };
  if (shownBy !== null) return { outcome: 'shown-only', by: shownBy, add };
  return { outcome: 'unnoticed', ...none };
}

/** Why the scenario is left out; null: it is not. */
async function tryScenario(
  task: CaseTask,
  on: {
    readonly io: Io;
    readonly watches: Map<string | undefined, WatchUnderTest>;
    readonly shown: ReadonlyMap<string, Shown>;
  },
): Promise<LeftOut['why'] | null> {
  try {
    const { watch, faulty, visits } = await watchOf(task, on);
    const timeline = await loadTimeline(task.file, watch.watchFile, {}, on.io);
    const { experiment, verdict } = replayOne(timeline, watch);
    visit(watch.program.table, simulate(experiment), visits);
    const wishes = timeline.expect ?? heldTo;
    if (unmetExpectations(wishes, verdict.summary).length > 0) return 'failed';
    for (const { fault, program, alike } of faulty) {
      const found = on.shown.get(fault.name);
      if (alike || found?.noticedBy !== null) continue;
      const trace = simulate({ ...experiment, program }, { record: 'none' });
      const { summary } = judge(experiment.world.openings, trace, watch.watchFile.judge);
      if (unmetExpectations(wishes, summary).length > 0) found.noticedBy = task.path;
      else if (isOther(summary, verdict.summary) && found.shownBy === null) {
        found.shownBy = task.path;
        found.add = expectationThatTells(summary, verdict.summary);
      }
    }
    return null;
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    return 'unreadable';
  }
}

async function watchOf(
  task: CaseTask,
  on: {
    readonly io: Io;
    readonly watches: Map<string | undefined, WatchUnderTest>;
    readonly shown: ReadonlyMap<string, Shown>;
  },
): Promise<WatchUnderTest> {
  const known = on.watches.get(task.watch);
  if (known !== undefined) return known;
  const watch = await loadWatch(task.watch, on.io);
  const { program, watchFile } = watch;
  const faulty = mutantPrograms(
    program,
    watchFile.timing,
    Object.values(watchFile.reset).some((does) => does !== 'clears'),
  );
  for (const { fault, alike } of faulty) {
    const found = on.shown.get(fault.name);
    if (found !== undefined && !alike) found.differs = true;
  }
  const made = { name: task.watch, watch, faulty, visits: noVisits(program.table) };
  on.watches.set(task.watch, made);
  return made;
}

/** One line that the sound watch meets and the faulty one does not; null: `expect:` has no word for what differs. */
function expectationThatTells(faulty: Summary, sound: Summary): string | null {
  const { counts, worstDelayAtMostMs } = differenceFrom(faulty, sound);
  const [first] = counts;
  if (first !== undefined) return `${first.name}: ${String(first.most)}`;
  if (worstDelayAtMostMs === null) return null;
  const isLater = (faulty.worstDelayMs ?? Number.POSITIVE_INFINITY) > worstDelayAtMostMs;
  return `worstDelay${isLater ? 'AtMost' : 'AtLeast'}: ${writeDuration(worstDelayAtMostMs)}`;
}

/** Another verdict. How often the device checked does not count. */
function isOther(one: Summary, other: Summary): boolean {
  return JSON.stringify({ ...one, checks: 0 }) !== JSON.stringify({ ...other, checks: 0 });
}
