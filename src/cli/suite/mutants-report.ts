// How good a suite is, for a terminal: the mistakes that it would not notice, and the states and transitions that it does not cover.
import path from 'node:path';
import { counted, listText, numberText, plain } from '../../base/index.js';
import type { TransitionItem, TransitionKind } from '../../coverage/index.js';
import { type Scene, scenes } from '../../mutants/index.js';
import { plainCut } from '../../wording/index.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';
import type { AgainstMutants, LeftOut, MutantFinding, Noticed } from './mutants-view.js';

/** The most states and the most transitions that are named; JSON has all. */
const mostNamed = 8;

export function* mutantsReport(
  found: AgainstMutants,
  {
    width,
    paint,
    folder,
  }: {
    readonly width: number;
    readonly paint: Paint;
    /** That of the suite. */
    readonly folder: string;
  },
): Generator<string> {
  const of = (outcome: Noticed): readonly MutantFinding[] =>
    found.faults.filter((fault) => fault.outcome === outcome);
  const alike = of('no-difference');
  const real = found.faults.length - alike.length;
  const score = `this suite would notice ${numberText(of('noticed').length)} of ${counted(real, 'mistake')} that make a difference.`;
  yield `\n${paragraphText(`${paint.bold('Against faulty watches')}: ${score}`, width)}`;
  yield* leftOutText(found.leftOut, width);
  const groups = groupsOf(of('shown-only'), of('unnoticed'));
  const missing = real - of('noticed').length;
  if (missing > 0) {
    const title = `What would notice the other ${missing === 1 ? 'one' : numberText(missing)}`;
    const lead = `${paint.bad(title)}, by what to add${untilPassing(found.leftOut)}:`;
    yield `\n${paragraphText(lead, width)}`;
    if (groups.some(({ isScenario }) => isScenario)) yield paragraphText(howToExpect(found), width);
  }
  for (const [index, { what, faults, isScenario }] of groups.entries()) {
    const count = counted(faults.length, 'mistake');
    yield `\n${paragraphText(`${what} (${count})`, width, `${String(index + 1)}. `)}`;
    yield factsText(
      faults.map(({ name, mistake, when }) => {
        const words = when === null || !isScenario ? mistake : `${mistake}. Time: ${when}`;
        return [name, words] as const;
      }),
      width,
    );
  }
  const example = groups.find(({ isScenario }) => isScenario)?.faults[0];
  // First repair what fails: it may notice the same mistakes.
  if (example !== undefined && found.leftOut.length === 0) yield hintFor(example, found, folder);
  if (alike.length > 0) {
    yield '\nNo difference: with these settings, these mistakes change nothing, whatever happens:\n';
    yield paragraphText(alike.map(({ name }) => name).join(', '), width, '  ');
  }
  for (const { file, coverage } of found.watches) {
    const all = found.leftOut.some(({ why }) => why === 'failed')
      ? ' (also by the scenarios that fail)'
      : '';
    yield `\n${paint.bold('Coverage')} of ${file === null ? 'the default watch' : plain(file)}${all}:\n`;
    const states = coverage.states.filter(({ visited }) => !visited).map(({ words }) => words);
    yield* namesOf(
      `states not covered: ${outOf(states.length, coverage.states.length)}`,
      states,
      width,
    );
    const unseen = coverage.transitions.filter(({ visited }) => !visited);
    yield* namesOf(
      `transitions not covered: ${kindsText(coverage.transitions)}`,
      unseen.filter(({ kind }) => kind === 'course').map(({ words }) => words),
      width,
    );
  }
}

const leftOutWords = {
  failed: 'it fails with the watch itself, so it cannot show a mistake',
  unreadable: 'it could not be read',
} as const;

function* leftOutText(leftOut: readonly LeftOut[], width: number): Generator<string> {
  if (leftOut.length === 0) return;
  yield `\nLeft out until ${leftOut.length === 1 ? 'it passes' : 'they pass'}:\n`;
  const rows = leftOut
    .slice(0, mostNamed)
    .map(({ path: file, why }) => [plainCut(file, 60), leftOutWords[why]] as const);
  yield factsText(rows, width);
  if (leftOut.length > mostNamed) {
    yield `  … and ${String(leftOut.length - mostNamed)} more (--json lists all)\n`;
  }
}

/** What goes for every scenario to add. */
function howToExpect({ watches }: AgainstMutants): string {
  const room = watches.some(({ hasRanges }) => hasRanges)
    ? ' The watch file has ranges: give worstDelayAtMost and worstDelayAtLeast room, since replay prints the latency of one clock error and one series of times.'
    : '';
  const expected = `What a new scenario expects is what replay prints for the watch itself.${room}`;
  return watches.some(({ holds }) => holds)
    ? `${expected} With hold-until-reset, write each twice: as it is, and with a reset just after the first alert.`
    : expected;
}

/** What was left out may notice some of what is listed. */
function untilPassing(leftOut: readonly LeftOut[]): string {
  if (leftOut.length === 0) return '';
  const [which, them] = leftOut.length === 1 ? ['the scenario', 'it'] : ['the scenarios', 'them'];
  return ` (${which} left out may notice some of these, so first make ${them} pass)`;
}

/** Mistakes that one addition, or a few alike, would notice. */
interface Group {
  /** What to add: sentences without the last full stop. */
  readonly what: string;
  /** Scenarios are to be added, which a hunt can write. */
  readonly isScenario: boolean;
  readonly faults: readonly MutantFinding[];
}

/** What to write to notice the mistakes of a scene. */
function sceneWords({ has, expects }: Scene): string {
  const names = expects.flatMap((name) =>
    name === 'delay' ? ['worstDelayAtMost', 'worstDelayAtLeast'] : [name],
  );
  return `Scenarios with ${has}. They expect ${listText(names)}`;
}

/** Expectations first, since they need no scenario; then scenarios. Of each those that most mistakes need first, late mistakes last. */
function groupsOf(
  shown: readonly MutantFinding[],
  unnoticed: readonly MutantFinding[],
): readonly Group[] {
  const expectations = grouped(shown, ({ by, add }) => expectationWords(by ?? '', add));
  const scenarios = grouped(unnoticed, ({ scene }) => sceneWords(scenes[scene]));
  const isLate = ({ faults }: Omit<Group, 'isScenario'>): number =>
    faults.some(({ scene }) => scenes[scene].kind === 'long-timeline') ? 1 : 0;
  const byNeed = (all: typeof scenarios): typeof scenarios =>
    all.toSorted((a, b) => isLate(a) - isLate(b) || b.faults.length - a.faults.length);
  return [
    ...byNeed(expectations).map((group) => ({ ...group, isScenario: false })),
    ...byNeed(scenarios).map((group) => ({ ...group, isScenario: true })),
  ];
}

function expectationWords(by: string, add: string | null): string {
  const file = plainCut(by, 60);
  if (add === null)
    return `Another scenario: ${file} shows these mistakes, but no expectation distinguishes them from the watch itself: expect: has no key for what differs, or the ranges of the watch file hide it`;
  return `In ${file}, under expect: ${add} (if ${add.split(':', 1)[0] ?? ''}: is there already, change it)`;
}

function grouped(
  faults: readonly MutantFinding[],
  wordsOf: (fault: MutantFinding) => string,
): readonly Omit<Group, 'isScenario'>[] {
  const groups = new Map<string, MutantFinding[]>();
  for (const fault of faults) {
    const what = wordsOf(fault);
    groups.set(what, [...(groups.get(what) ?? []), fault]);
  }
  return [...groups].map(([what, of]) => ({ what, faults: of }));
}

/** How to get a scenario that notices a mistake. */
function hintFor({ name }: MutantFinding, { watches }: AgainstMutants, folder: string): string {
  const watch = watches.find(({ differing }) => differing.includes(name));
  const output = path.join(folder, `${name}.yaml`);
  const words = ['hunt', ...watchWords(watch?.file ?? null), '--mistake', name, '-o', output];
  return nextLine(
    `write a scenario that notices ${name} (and in the same way one for each of the others)`,
    words,
  );
}

function* namesOf(title: string, names: readonly string[], width: number): Generator<string> {
  yield paragraphText(title, width, '  ');
  for (const name of names.slice(0, mostNamed)) yield paragraphText(name, width, '    ');
  if (names.length > mostNamed) {
    yield `    … and ${String(names.length - mostNamed)} more (--json lists all)\n`;
  }
}

const kindWords: readonly (readonly [kind: TransitionKind, words: string])[] = [
  ['course', 'by wakes, checks and sends'],
  ['reset', 'by a reset'],
  ['power', 'by a power loss'],
];

function kindsText(transitions: readonly TransitionItem[]): string {
  return kindWords
    .map(([kind, words]) => {
      const all = transitions.filter((transition) => transition.kind === kind);
      return `${outOf(all.filter(({ visited }) => !visited).length, all.length)} ${words}`;
    })
    .join(', ');
}

function outOf(count: number, all: number): string {
  return `${String(count)} of ${String(all)}`;
}
