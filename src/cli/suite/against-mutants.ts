// How good a suite is: its scenarios against faulty watches, and the states and transitions that they do not cover.

import { greatestOf, leastOf, ppm, trueMs } from '../../base/index.js';
import { coverageOf, noVisits, type Visits, visit } from '../../coverage/index.js';
import { type Mutant, type MutantProgram, mutantPrograms, mutants } from '../../mutants/index.js';
import { hasRanges } from '../../phase/index.js';
import { unmetExpectations, writeDuration } from '../../scenarios/index.js';
import { type Experiment, simulate } from '../../sim/index.js';
import { judge, type Summary } from '../../verdict/index.js';
import { type ClockError, deviceTiming } from '../../world/index.js';
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
      ({ name, mistake, scene, when }): MutantFinding => ({
        name,
        mistake,
        scene,
        when: whenText(name, when, [...watches.values()]),
        ...outcomeOf(shown.get(name)),
      }),
    ),
    leftOut,
    watches: [...watches.values()].map(({ name, watch, visits, faulty }) => ({
      file: name ?? null,
      holds: watch.watchFile.watch.afterAlert === 'hold-until-reset',
      hasRanges: hasRanges(deviceTiming({}, watch.watchFile.timing)),
      differing: faulty.filter(({ alike }) => !alike).map(({ fault }) => fault.name),
      coverage: coverageOf(watch.program, visits),
    })),
  };
}

function whenText(
  mistake: string,
  when: Mutant['when'],
  watches: readonly WatchUnderTest[],
): string | null {
  const first = watches.find(({ faulty }) =>
    faulty.some(({ fault, alike }) => !alike && fault.name === mistake),
  );
  if (when === undefined || first === undefined) return null;
  const { watch, timing } = first.watch.watchFile;
  return when(watch, timing);
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
    const sounds = once(() => soundOverRanges(experiment, watch));
    if (unmetExpectations(wishes, verdict.summary).length > 0) return 'failed';
    for (const { fault, program, alike } of faulty) {
      const found = on.shown.get(fault.name);
      if (alike || found?.noticedBy !== null) continue;
      const trace = simulate({ ...experiment, program }, { record: 'none' });
      const { summary } = judge(experiment.world.openings, trace, watch.watchFile.judge);
      if (unmetExpectations(wishes, summary).length > 0) found.noticedBy = task.path;
      else if (isOther(summary, verdict.summary) && found.shownBy === null) {
        found.shownBy = task.path;
        found.add = expectationThatTells(summary, verdict.summary, sounds());
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

function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null;
  return () => (made ??= { value: make() }).value;
}

/** Values of a range, from one end to the other, and series of times. */
const valuesOfRanges = 21;

/** What the sound watch does in a scenario with other values of its ranges than those that were picked; empty: it has none. */
function soundOverRanges(experiment: Experiment, { watchFile }: LoadedWatch): readonly Summary[] {
  const { timing, seed, world } = experiment;
  const { clockError } = timing;
  if (!hasRanges(timing)) return [];
  return Array.from({ length: valuesOfRanges }, (_, at) => {
    const other = { ...experiment, seed: `${seed} other ${String(at)}` };
    const run =
      clockError.kind === 'drawn'
        ? { ...other, timing: { ...timing, clockError: nthOf(clockError, at) } }
        : other;
    const trace = simulate(run, { record: 'none' });
    return judge(world.openings, trace, watchFile.judge).summary;
  });
}

/** A device that does not know its error, as with a range. */
function nthOf({ leastPpm, greatestPpm }: DrawnError, at: number): ClockError {
  const share = at / (valuesOfRanges - 1);
  const error = ppm(Math.round(leastPpm + share * (greatestPpm - leastPpm)));
  return { kind: 'curve', steps: [{ fromMs: trueMs(0), ppm: error }] };
}

type DrawnError = Extract<ClockError, { readonly kind: 'drawn' }>;

/**
 * One line that the sound watch meets and the faulty one does not; null: `expect:` has no word for what differs.
 * @param others what the sound watch does with other values of its ranges: it has to meet the line with these as well.
 */
function expectationThatTells(
  faulty: Summary,
  sound: Summary,
  others: readonly Summary[],
): string | null {
  const { counts, worstDelayAtMostMs } = differenceFrom(faulty, sound);
  const all = [sound, ...others];
  for (const { name } of counts) {
    const wish = countThatTells(
      faulty[name] ?? 0,
      all.map((one) => one[name] ?? 0),
    );
    if (wish !== null) return `${name}: ${wish}`;
  }
  if (worstDelayAtMostMs === null) return null;
  const delays = all.map(({ worstDelayMs }) => worstDelayMs ?? Number.POSITIVE_INFINITY);
  const faultyMs = faulty.worstDelayMs ?? Number.POSITIVE_INFINITY;
  // Exact where nothing is picked at random, else a whole second beyond all that was seen.
  const stepMs = others.length === 0 ? 1 : 1_000;
  const mostMs = Math.ceil(greatestOf(delays) / stepMs) * stepMs;
  if (faultyMs > mostMs) return `worstDelayAtMost: ${writeDuration(mostMs)}`;
  const leastMs = Math.floor(leastOf(delays) / stepMs) * stepMs;
  return faultyMs < leastMs ? `worstDelayAtLeast: ${writeDuration(leastMs)}` : null;
}

/** What the sound counts meet and the faulty one does not; null: it lies among them. */
function countThatTells(faulty: number, sound: readonly number[]): string | null {
  const [least, most] = [leastOf(sound), greatestOf(sound)];
  if (least === most) return String(most);
  if (faulty > most) return `{ atMost: ${String(most)} }`;
  return faulty < least ? `{ atLeast: ${String(least)} }` : null;
}

/** Another verdict. How often the device checked does not count. */
function isOther(one: Summary, other: Summary): boolean {
  return JSON.stringify({ ...one, checks: 0 }) !== JSON.stringify({ ...other, checks: 0 });
}
