// How good a suite is, for a terminal: the mistakes that it would not notice, and the states and transitions that it does not cover.
import path from 'node:path';
import { counted, numberText, plain } from '../../base/index.js';
import type { TransitionItem, TransitionKind } from '../../coverage/index.js';
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
  const style = { width, paint };
  const unnoticed = of('unnoticed');
  const soon = unnoticed.filter(({ isLate }) => !isLate);
  const late = unnoticed.filter(({ isLate }) => isLate);
  yield* listOf('Not noticed, because no verdict changes', soon, style);
  yield* listOf(
    'Not noticed, because no expectation checks the verdict that changes',
    of('shown-only'),
    style,
  );
  yield* listOf('Not noticed, because they show late or seldom', late, style);
  const example = [...soon, ...of('shown-only'), ...late][0];
  if (example !== undefined) yield hintFor(example, found, folder);
  if (alike.length > 0) {
    yield '\nNo difference: with these settings, these mistakes change nothing, whatever happens:\n';
    yield paragraphText(alike.map(({ name }) => name).join(', '), width, '  ');
  }
  for (const { file, coverage } of found.watches) {
    yield `\n${paint.bold('Coverage')} of ${file === null ? 'the default watch' : plain(file)}:\n`;
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
  failed: 'it fails with the watch itself, so a mistake would change nothing',
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

function* listOf(
  title: string,
  faults: readonly MutantFinding[],
  { width, paint }: { readonly width: number; readonly paint: Paint },
): Generator<string> {
  if (faults.length === 0) return;
  yield `\n${paint.bad(title)}:\n`;
  const rows = faults.map(({ name, mistake, by, add }) => {
    const more =
      add === null
        ? ''
        : `; to notice it, write ${add} under its expect: (if there is ${add.split(':', 1)[0] ?? ''}: already, change it)`;
    const where = by === null ? '' : paint.dim(` (in ${plainCut(by, 60)}${more})`);
    return [name, mistake + where] as const;
  });
  yield factsText(rows, width);
}

/** How to get a scenario that notices a mistake. */
function hintFor({ name }: MutantFinding, { watches }: AgainstMutants, folder: string): string {
  const watch = watches.find(({ differing }) => differing.includes(name));
  const output = path.join(folder, `${name}.yaml`);
  const words = ['hunt', ...watchWords(watch?.file ?? null), '--mistake', name, '-o', output];
  return nextLine(`a scenario for this suite that notices ${name}`, words);
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
