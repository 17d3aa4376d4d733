// A drill and its results, for a terminal, as Markdown, and as JSON.
import {
  counted,
  durationText,
  itemAt,
  nameOfFile,
  plain,
  roundedDurationText,
  sentence,
} from '../../base/index.js';
import type { Diagnosis, Drill, StepResult } from '../../drill/index.js';
import type { SupplySettings } from '../../model/index.js';
import { commandLineText } from '../../report/index.js';
import { cautionWords } from '../layout/caution.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';
import {
  actionLines,
  exactness,
  expectation,
  howTo,
  longWords,
  purpose,
  type QuickOf,
  recordWords,
  safety,
  stepsText,
  summaryLines,
  wrongWords,
} from './words.js';

export interface DrillView {
  /** The watch file, as the user named it. */
  readonly watch: string;
  readonly drill: Drill;
  /** Null: nothing was recorded. */
  readonly results: readonly StepResult[] | null;
  /** Null: no step failed. */
  readonly diagnosis: Diagnosis | null;
  /** Null: the drill is of the watch file itself. */
  readonly quickOf: QuickOf | null;
  /** Null: the watch file says nothing of it. */
  readonly supply: SupplySettings | null;
  /** The watch file as it was given with `--config`; undefined: it was not. */
  readonly config?: string | undefined;
  /** The command line that judges what was recorded. */
  readonly judge: string;
}

/** What was written, how long it takes, and what to know before the first step. */
export function writtenText(
  file: string,
  { drill, judge, quickOf, supply }: DrillView,
  width: number,
): string {
  const { steps, totalMs } = drill;
  const head = `Wrote ${plain(file)}: a drill of ${counted(steps.length, 'step')}, which takes ${roundedDurationText(totalMs, 'at most')} in all.`;
  const quick =
    quickOf === null
      ? []
      : [
          `The drill is of the settings in ${plain(quickOf.quick)}: flash firmware with these settings before the drill, and firmware with those of ${plain(quickOf.watch)} afterwards.`,
        ];
  const long = longWords(drill).map((one) => sentence(one));
  const words = [head, ...long, ...quick, ...safety(steps, supply), recordWords].map((one) =>
    paragraphText(one, width),
  );
  return `${words.join('\n')}  ${plain(judge)}\n`;
}

export function drillText(
  { watch, drill, quickOf, supply, judge }: DrillView,
  width: number,
  paint: Paint,
): string {
  const head = `${paint.bold(plain(watch))}: a drill of ${counted(drill.steps.length, 'step')}.\n\n`;
  const steps = drill.steps.map((step, index) => {
    const title = paint.bold(`Step ${String(index + 1)}`);
    const exact = exactness(step, drill);
    return [
      `\n${title} (${durationText(step.endsMs)})\n`,
      exact === '' ? '' : paragraphText(paint.doubtful(exact), width),
      factsText(actionLines(step), width),
      paragraphText(paint.good(expectation(step)), width, '  [ ] '),
      paragraphText(paint.dim(purpose(step)), width, '      '),
    ].join('');
  });
  const intro = howTo(drill, { quickOf, supply }).map((words) => paragraphText(words, width));
  return [
    head,
    factsText(summaryLines(drill, quickOf), width),
    '\n',
    intro.join('\n'),
    ...steps,
    `\n${paragraphText(recordWords, width)}  ${plain(judge)}\n`,
    `\n${paragraphText(paint.dim(cautionWords), width)}`,
  ].join('');
}

/** Markdown in which nothing of a name is markup. */
function marked(text: string): string {
  return plain(text).replace(/[\\`*_[\]<>#|~]/gu, String.raw`\$&`);
}

export function drillMarkdown({ watch, drill, quickOf, supply, judge }: DrillView): string {
  const lines = [
    `# Drill of ${marked(nameOfFile(watch))}`,
    '',
    ...summaryLines(drill, quickOf).map(([name, words]) => `- ${name}: ${words}`),
    '',
    ...howTo(drill, { quickOf, supply }).flatMap((words) => [words, '']),
  ];
  for (const [index, step] of drill.steps.entries()) {
    lines.push(`## Step ${String(index + 1)} (${durationText(step.endsMs)})`, '');
    const exact = exactness(step, drill);
    if (exact !== '') lines.push(`**${exact}**`, '');
    lines.push('| at | do |', '|---|---|');
    for (const [at, words] of actionLines(step)) lines.push(`| ${at} | ${words} |`);
    lines.push('', `- [ ] ${expectation(step)}`, '', 'Messages came at: ______', '');
    lines.push(`*${purpose(step)}*`, '');
  }
  return `${[...lines, recordWords, '', `    ${judge}`, '', cautionWords].join('\n')}\n`;
}

export function isPassed(results: readonly StepResult[]): boolean {
  return results.every(({ outcome }) => outcome === 'passed');
}

export function resultsText(
  { watch, drill, results, diagnosis, config, quickOf }: DrillView,
  width: number,
  paint: Paint,
): string {
  const all = results ?? [];
  const failed = all.filter(({ outcome }) => outcome === 'failed');
  const untried = all.filter(({ outcome }) => outcome === 'not-tried').length;
  const passed = all.length - failed.length - untried;
  const verdict = [
    paint.good(`${String(passed)} of ${counted(all.length, 'step')} passed`),
    ...(failed.length > 0 ? [paint.bad(`${String(failed.length)} FAILED`)] : []),
    ...(untried > 0 ? [paint.doubtful(`${String(untried)} not tried`)] : []),
  ].join(', ');
  const lines = failed.map((result) =>
    paragraphText(
      `step ${String(result.step)}: ${failedWords(result, { drill, diagnosis })}`,
      width,
      '  - ',
    ),
  );
  if (untried > 0) {
    const steps = all.filter(({ outcome }) => outcome === 'not-tried').map(({ step }) => step);
    lines.push(paragraphText(`not tried: ${stepsText(steps)}.`, width, '  - '));
    if (failed.length === 0) {
      lines.push('\n', paragraphText(`Next: do ${stepsText(steps)}, and add their rows.`, width));
    }
  }
  if (failed.length > 0) {
    const ending = nothingCame(all)
      ? silentWords(all, failed)
      : nextWords(diagnosis, failed, { config, isWhole: untried === 0 });
    lines.push('\n');
    for (const words of ending) lines.push(paragraphText(words, width));
  }
  if (passed === all.length) {
    for (const words of passedWords(drill, quickOf)) lines.push(paragraphText(words, width));
  }
  return `${paint.bold(plain(watch))}: ${verdict}.\n${lines.length === 0 ? '' : `\n${lines.join('')}`}`;
}

/** What a drill shows whose steps all passed, and when it no longer does. */
function passedWords({ faults }: Drill, quickOf: QuickOf | null): readonly string[] {
  const { told, untold } = faults;
  const made =
    told.length === 1
      ? 'the one mistake that these steps notice'
      : `any of the ${String(told.length)} mistakes that these steps notice`;
  const rest = untold.length === 0 ? '' : `; they do not notice: ${untold.join(', ')}`;
  const after =
    quickOf === null
      ? 'keep this result'
      : `flash firmware with the settings of ${plain(quickOf.watch)}, keep this result`;
  return [
    `So the device does not make ${made}${rest}.`,
    `Next: ${after}, and do the drill again after each change of the firmware or of the watch file.`,
  ];
}

/** What is wrong in a step, and what can give just that. */
function failedWords(
  result: StepResult,
  { drill, diagnosis }: Pick<DrillView, 'drill' | 'diagnosis'>,
): string {
  const wrong = wrongWords(result, itemAt(drill.steps, result.step - 1));
  const names = diagnosis?.ofStep.get(result.step) ?? [];
  const can =
    names.length === 0
      ? 'None of the mistakes that the drill knows gives this.'
      : `${names.length === 1 ? 'This mistake' : 'Each of these mistakes'} can give this: ${names.join(', ')}.`;
  return `${wrong}. ${can}`;
}

function repeatWords(
  failed: readonly StepResult[],
  earlier = 'results from the earlier firmware',
): string {
  return `${repeated(failed.map(({ step }) => step))}; once ${failed.length === 1 ? 'it passes' : 'they pass'}, do the whole drill again: ${earlier} no longer count`;
}

function nothingCame(results: readonly StepResult[]): boolean {
  return results.every(({ seenMs }) => seenMs.length === 0);
}

/** What to do where no message came at all: one cause on the way explains it sooner than any mistake in the logic. */
function silentWords(
  results: readonly StepResult[],
  failed: readonly StepResult[],
): readonly string[] {
  const tried = results.filter(({ outcome }) => outcome !== 'not-tried').length;
  const due = failed.flatMap(({ wrongs }) => wrongs).length;
  const where = tried === 1 ? 'the step' : `any of the ${String(tried)} steps`;
  return [
    `No message came in ${where} that you tried, although ${due === 1 ? 'one was' : `${String(due)} were`} due. First see whether a message ever arrives: check the power of the device, its network and the receiver, then leave the door open until an alert is due.`,
    `Next: if none arrives, mend that; if one arrives, correct the firmware. After that, ${repeatWords(failed, 'these results')}.`,
  ];
}

/** What explains the results, and what to do next. */
function nextWords(
  diagnosis: Diagnosis | null,
  failed: readonly StepResult[],
  { config, isWhole }: { readonly config: string | undefined; readonly isWhole: boolean },
): readonly string[] {
  const { mistakes = [], silent = [], apart = [] } = diagnosis ?? {};
  const again = repeatWords(failed);
  const [name] = mistakes;
  if (name !== undefined) {
    return [
      `A device with ${mistakes.length === 1 ? 'this mistake' : 'one of these mistakes'} can give all that was recorded${isWhole ? '' : ', of the steps tried'}: ${mistakes.join(', ')}.`,
      `Next: ${huntLine(config, name)} shows what ${name} does. Correct the firmware, then ${again}.`,
    ];
  }
  if (silent.length > 0) return quietStepWords({ silent, apart, failed, config });
  return [
    `No single mistake that the drill knows gives all that was recorded${isWhole ? '' : ' of the steps tried'}: the device has several, or one that the drill does not know, or something was done or noted otherwise than listed.`,
    `Next: ${repeated(failed.map(({ step }) => step))} to see what comes again. If it fails again, correct the firmware, then ${again}.`,
  ];
}

function huntLine(config: string | undefined, mistake: string): string {
  return commandLineText('hunt', [], { config, mistake });
}

function repeated(steps: readonly number[]): string {
  return `repeat ${stepsText(steps)}`;
}

/** Where nothing came in some steps, messages came in others, and no mistake explains that: most probably something else failed. */
function quietStepWords({
  silent,
  apart,
  failed,
  config,
}: Pick<Diagnosis, 'silent' | 'apart'> & {
  readonly failed: readonly StepResult[];
  readonly config: string | undefined;
}): readonly string[] {
  const steps = stepsText(silent);
  const [name] = apart;
  const others =
    failed.length === silent.length
      ? []
      : [
          name === undefined
            ? 'No single mistake that the drill knows gives what came in the other steps either.'
            : `${apart.length === 1 ? 'This mistake' : 'Each of these mistakes'} can give what came in the other steps: ${apart.join(', ')} (${huntLine(config, name)} shows what ${name} does).`,
        ];
  return [
    `Not one message came in ${steps}, and no single mistake that the drill knows gives that together with what came in the other steps. So first suspect what is around the device: its power (a battery that was not connected, or is empty), the network, and the phone or mailbox that the messages go to.`,
    ...others,
    `Next: check these, and ${repeated(silent)}. If messages come then, write them in place of the rows of ${steps}, and judge the record again. If not one comes again, correct the firmware, then ${repeatWords(failed)}.`,
  ];
}

export function drillJson({ watch, drill, results, diagnosis }: DrillView): string {
  const written =
    results?.map((result) => ({ ...result, mistakes: diagnosis?.ofStep.get(result.step) ?? [] })) ??
    null;
  const mistakes = diagnosis?.mistakes ?? [];
  const found = written === null ? {} : { mistakes };
  return `${JSON.stringify({ schema: 'dozewatch/drill/1', watch, ...drill, results: written, ...found }, null, 2)}\n`;
}
