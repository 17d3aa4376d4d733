// `dozewatch suite`: replays every scenario of a folder.

import { hostname } from 'node:os';
import { counted, plain } from '../../base/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { openProgress } from '../host/progress.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { loadWatch } from '../inputs/load-watch.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { problem } from '../problem.js';
import { outcomeOf, type SuiteCase } from './case.js';
import { suiteJson } from './json.js';
import type { AgainstMutants } from './mutants-view.js';
import type { SuiteOptions } from './options.js';
import { runCases } from './pool.js';
import { suiteReport } from './report.js';
import type { CaseTask, Play } from './run-case.js';
import { noScenarios, scenarioFiles } from './scenario-files.js';

/** @throws InputProblem when the folder or the watch file of `-c` cannot be read; scenarios that cannot are cases. */
export async function suite(
  folder: string,
  options: SuiteOptions,
  on: { readonly io: Io; readonly style: Style; readonly play?: Play | undefined },
): Promise<ExitStatus> {
  const { io } = on;
  const startedMs = stampMs(io);
  const files = await scenarioFiles(folder, io, watchWords(options.config ?? null, { ...options }));
  if (options.config === '-') {
    throw problem('standard-input-here', '--config', {
      message:
        'a suite needs its watch file several times, and standard input can be read only once',
      expected: 'the name of a file',
    });
  }
  if (options.logic !== undefined && options.againstMistakes === true) {
    throw problem('options-exclude', '--against-mistakes', {
      message: "--against-mistakes changes the watch's own logic, which --logic replaces",
      hint: 'leave out --against-mistakes or --logic',
    });
  }
  if (options.config !== undefined || options.logic !== undefined) {
    await loadWatch(options.config, io, [], options.logic);
  }
  if (options.junit !== undefined) {
    const inputs = files.flatMap(({ file, watch }) => [file, options.config ?? watch ?? file]);
    refuseStdout('--junit', options.junit);
    const outputs = [{ option: '--junit', file: options.junit }];
    await refuseUnfitOutputs(outputs, { inputs: [...inputs, options.logic], io });
  }
  const tasks = files.map(({ path, file, watch }) => ({
    path,
    file,
    watch: options.noConfig === true ? undefined : (options.config ?? watch),
    logic: options.logic,
    folder: io.folder,
  }));
  const progress = openProgress(io, 'replaying scenarios');
  let done = 0;
  const onDone = (): void => {
    done += 1;
    progress.at(done / tasks.length);
  };
  const all = await runCases(tasks, io, { onDone, play: on.play });
  progress.end();
  const cases = all.filter((one) => !isOtherKind(one));
  if (cases.length === 0) throw noScenarios(folder);
  for (const one of all.filter(isOtherKind)) await print(io, skippedText(one), 'stderr');
  const left = new Set(cases.map(({ path }) => path));
  const scenarios = tasks.filter(({ path }) => left.has(path));
  const against = options.againstMistakes === true ? await faultsOf(scenarios, io) : null;
  const without = scenarios.filter(({ watch }) => watch === undefined).length;
  if (without > 0 && options.noConfig !== true) {
    const which = without === scenarios.length ? '' : ` for ${counted(without, 'scenario')}`;
    await print(io, `watch file: none found${which}, so the defaults apply\n`, 'stderr');
  }
  await report(cases, folder, { ...on, options, startedMs, against });
  if (options.json !== true && on.play === undefined) await print(io, failedLine(cases, tasks));
  return statusOf(cases);
}

/** How to look closer at the first scenario that failed; empty: none did. */
function failedLine(cases: readonly SuiteCase[], tasks: readonly CaseTask[]): string {
  const failed = cases.find((one) => outcomeOf(one) === 'failed');
  const task = tasks.find(({ path }) => path === failed?.path);
  if (task === undefined) return '';
  const { file, watch, logic } = task;
  const words = watchWords(watch ?? null, { noConfig: true, logic });
  return nextLine('the first that failed, in full', ['replay', file, ...words]);
}

/** A watch file, a profile or a certificate among the scenarios. */
function isOtherKind({ path, result }: SuiteCase): boolean {
  if (result.kind !== 'unreadable') return false;
  const [error] = result.errors;
  // A watch file of the scenario may also be of another kind: that is an error.
  const isOwn = error?.source.file.replaceAll('\\', '/').endsWith(path) === true;
  return error?.code === 'other-kind-of-file' && isOwn;
}

function skippedText({ path, result }: SuiteCase): string {
  const [error] = result.kind === 'unreadable' ? result.errors : [];
  const what = error?.message.replace(/, but .*/u, '') ?? '';
  return `skipped: ${plain(path)}: ${what}, not a scenario\n`;
}

async function report(
  cases: readonly SuiteCase[],
  folder: string,
  on: {
    readonly io: Io;
    readonly style: Style;
    readonly options: SuiteOptions;
    readonly startedMs: number;
    /** Null: not asked for. */
    readonly against: AgainstMutants | null;
  },
): Promise<void> {
  const { io, options, startedMs, against } = on;
  if (options.junit !== undefined) {
    const { junitXml } = await import('./junit-xml.js');
    const xml = junitXml(cases, { name: folder, hostname: hostname(), startedMs });
    await writeOutput(options.junit, [xml], io);
  }
  if (options.json === true) {
    await io.stdout.write(suiteJson(cases, against));
    return;
  }
  const paint = paintFor('stdout', on);
  const width = io.stdout.isTerminal ? io.stdout.columns : Infinity;
  for (const piece of suiteReport(cases, { paint, width })) await print(io, piece);
  if (against !== null) {
    const { mutantsReport } = await import('./mutants-report.js');
    for (const piece of mutantsReport(against, { width: io.stdout.columns, paint, folder }))
      await print(io, piece);
  }
  if (options.junit !== undefined) await print(io, `JUnit XML: ${plain(options.junit)}\n`);
}

async function faultsOf(tasks: readonly CaseTask[], io: Io): Promise<AgainstMutants> {
  const { againstMistakes } = await import('./against-mutants.js');
  const progress = openProgress(io, 'replaying faulty watches');
  let done = 0;
  const found = await againstMistakes(tasks, io, () => {
    done += 1;
    progress.at(done / tasks.length);
  });
  progress.end();
  return found;
}

function statusOf(cases: readonly SuiteCase[]): ExitStatus {
  const outcomes = cases.map(outcomeOf);
  if (outcomes.includes('error')) return 2;
  return outcomes.includes('failed') ? 1 : 0;
}

/** Now, or SOURCE_DATE_EPOCH (whole seconds) for reports that are the same every time. */
function stampMs(io: Io): number {
  const text = io.environment['SOURCE_DATE_EPOCH'] ?? '';
  return /^\d{1,11}$/u.test(text) ? Number(text) * 1_000 : io.now();
}
