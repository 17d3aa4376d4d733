// `dozewatch drill` at work.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { greatestOf, shellWord } from '../../base/index.js';
import { questionOf } from '../../bounds/index.js';
import {
  type Diagnosis,
  type Drill,
  type DrillProgress,
  type DrillQuestion,
  diagnosed,
  drillOf,
  parseDrillRecord,
  resultsOf,
  type Seen,
  seenInDeviceLog,
  stepKinds,
} from '../../drill/index.js';
import { mostToleranceMs, type Row, settings } from '../../model/index.js';
import { commandLineText } from '../../report/index.js';
import {
  overlaidWatchText,
  overrideWith,
  parseDeviceLog,
  type WatchOverride,
} from '../../scenarios/index.js';
import { durationOf, namesOf } from '../arguments/values.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { readText } from '../host/read-text.js';
import { runSteps } from '../host/run-steps.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { asRun } from '../layout/command-line.js';
import { optionWords, watchWords } from '../layout/next-line.js';
import { shippedScript } from '../layout/page-script.js';

import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { problem, valueOfFile } from '../problem.js';
import { loadLeastCover } from './least-cover.js';
import type { DrillOptions } from './options.js';
import { drillHtml } from './page.js';
import {
  type DrillView,
  drillJson,
  drillMarkdown,
  drillText,
  isPassed,
  resultsText,
  writtenText,
} from './report.js';

type Format = 'text' | 'markdown' | 'html';

const tolerances = { least: 1_000, most: mostToleranceMs };

/** @throws InputProblem for input that cannot be read or believed. */
export async function drill(
  options: DrillOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const outputs = [
    { option: '--output', file: options.output ?? '-' },
    { option: '--quick', file: options.quick ?? '-' },
  ];
  await refuseUnfitOutputs(outputs, { inputs: [options.config, options.record], io });
  if (options.record === '-' && options.config === '-') {
    throw problem('standard-input-twice', '-', {
      message: 'it can be read only once',
      hint: 'give the watch file or the record as a file',
    });
  }
  const format = options.format ?? formatNamedBy(options.output ?? '');
  const toleranceMs = durationOf('--tolerance', options.tolerance ?? '2s', tolerances);
  const leftOut =
    options.without === undefined
      ? []
      : namesOf('--without', options.without, { what: 'kind of step', known: stepKinds });
  const without = new Set(stepKinds.filter((kind) => leftOut.includes(kind)));
  const loaded = await loadWatch(options.config, io);
  await writeDiagnostics(loaded.warnings, {
    io,
    paint: paintFor('stderr', on),
  });
  const watch = options.quick === undefined ? loaded : await quickWatch(loaded, options.quick, io);
  const question: DrillQuestion = {
    ...questionOf(watch.watchFile, { table: watch.program.table, ownLogic: watch.ownLogic }),
    toleranceMs,
    short: options.short === true,
    without,
  };
  const made = await showing(drillOf(question, await loadLeastCover()), 'making the drill', io);
  const seen =
    options.record === undefined ? null : await seenIn(options.record, made, options, io);
  const results = seen === null ? null : resultsOf(made.steps, seen);
  const diagnosis: Diagnosis | null =
    results?.some(({ outcome }) => outcome === 'failed') === true
      ? await showing(diagnosed(question, made.steps, results), 'comparing the record', io)
      : null;
  const quickOf =
    options.quick === undefined
      ? null
      : {
          quick: path.basename(options.quick),
          watch: path.basename(loaded.name ?? 'the defaults'),
        };
  const view: DrillView = {
    watch: watch.name ?? 'the defaults',
    drill: made,
    results,
    diagnosis,
    quickOf,
    supply: watch.watchFile.supply,
    config: options.config,
    judge: judgeWords(options),
  };
  await write(view, { ...options, format }, on);
  return results === null || isPassed(results) ? 0 : 1;
}

/** Runs something that takes time, and shows how far it has come. */
async function showing<Result>(
  steps: Generator<DrillProgress, Result>,
  first: string,
  io: Io,
): Promise<Result> {
  const phase = { doing: '', progress: openProgress(io, first) };
  const result = await runSteps(steps, io, ({ doing, share }) => {
    if (doing !== phase.doing) {
      phase.progress.end();
      phase.progress = openProgress(io, doing);
      phase.doing = doing;
    }
    phase.progress.at(share);
  });
  phase.progress.end();
  return result;
}

async function seenIn(
  file: string,
  { steps }: Drill,
  { zone }: DrillOptions,
  io: Io,
): Promise<Seen> {
  const text = await readText(file, io);
  const [firstLine = ''] = text.trimStart().split('\n', 1);
  const isLog = firstLine.startsWith('{') || /\bevent\b/u.test(firstLine);
  if (!isLog) {
    const endsMs = steps.map((step) => step.endsMs);
    return valueOfFile(parseDrillRecord(text, file, endsMs), text, {
      file,
      wanted: 'record of a drill',
      option: '--record',
    });
  }
  const log = parseDeviceLog(text, file, { zone: zone ?? null });
  const seen = seenInDeviceLog(valueOfFile(log, text, { file, wanted: 'device log' }), steps);
  if (seen !== null) return seen;
  throw problem('drill-log-too-long', file, {
    message: 'this device log has more power-ons than the drill has steps',
    hint: 'keep only the rows of the drill, and give the watch file and options of its checklist',
  });
}

async function write(
  view: DrillView,
  options: DrillOptions & { readonly format: Format },
  on: { readonly io: Io; readonly style: Style },
): Promise<void> {
  const { io } = on;
  const { output, json } = options;
  const toFile = output !== undefined && output !== '-';
  const paint = paintFor('stdout', on);
  const ownPage = await pageOf(view, options, io);
  const page = ownPage === null ? null : asRun(ownPage, io.environment);
  if (toFile) {
    await writeOutput(
      output,
      [page ?? asRun(drillText(view, 100, paintFor('stdout', plainly(on))), io.environment)],
      io,
    );
  }
  if (json === true) await io.stdout.write(drillJson(view));
  else if (view.results !== null) await print(io, resultsText(view, io.stdout.columns, paint));
  else if (toFile) await print(io, writtenText(output, view, io.stdout.columns));
  else if (page !== null) await io.stdout.write(page);
  else await print(io, drillText(view, io.stdout.columns, paint));
}

function plainly(on: { readonly io: Io; readonly style: Style }) {
  return { ...on, style: { ...on.style, colour: false } };
}

/** @throws InputProblem for the ending of something that a checklist is not. */
function formatNamedBy(output: string): Format {
  const name = path.basename(output);
  if (/\.(?:md|markdown)$/iu.test(name)) return 'markdown';
  if (/\.html?$/iu.test(name)) return 'html';
  const ending = path.extname(name);
  if (ending === '' || /^\.te?xt$/iu.test(ending)) return 'text';
  throw problem('unknown-format', '--output', {
    message: 'the file name must end in .txt, .md or .html',
    found: output,
    hint: 'or add --format text, --format markdown or --format html',
  });
}

/** Null: as on a terminal. */
async function pageOf(
  view: DrillView,
  options: DrillOptions & { readonly format: Format },
  io: Io,
): Promise<string | null> {
  switch (options.format) {
    case 'markdown':
      return drillMarkdown({ ...view, judge: asRun(view.judge, io.environment) });
    case 'html':
      return drillHtml(view, {
        script: await shippedScript('drill'),
        judge: asRun(judgeLine(options), io.environment),
      });
    case 'text':
      return null;
  }
}

/** The line that judges a record, to be pasted here. */
function judgeWords(options: DrillOptions): string {
  const { config, short, without, tolerance, quick } = options;
  const words = [
    ...['dozewatch', 'drill', ...watchWords(config ?? null, { ...options })],
    ...optionWords({ short, without, tolerance, quick }, []),
    ...['--record', 'results.csv'],
  ];
  return words.map(shellWord).join(' ');
}

/** The same drill, with the record that its page saves. */
function judgeLine({ config, short, without, tolerance, quick }: DrillOptions): string {
  return commandLineText('drill', [], {
    config,
    short,
    without,
    tolerance,
    quick,
    record: 'results.csv',
  });
}

const quickHeading = 'For a quick drill only: the intervals of';

/** Check intervals of a quick drill; others shrink as much, but to no less than hands can meet. */
const quickCheckMs = 60_000;
const quickLeastMs = 20_000;
/** A heartbeat of a quick drill: at most this, and at most this many times the longest of the other intervals. */
const quickHeartbeatMs = 600_000;
const quickHeartbeatTimes = 2;

/** The watch with its intervals scaled down, written beside. */
async function quickWatch(loaded: LoadedWatch, file: string, io: Io): Promise<LoadedWatch> {
  await refuseForeign(file, io);
  const { watch } = loaded.watchFile;
  const factor = Math.max(1, watch.checkIntervalMs / quickCheckMs);
  const scaled = (ms: number): number =>
    Math.max(Math.min(ms, quickLeastMs), Math.round(ms / factor / 1_000) * 1_000);
  const override = (row: Row<'duration' | 'durationOrOff'>, ms: number): WatchOverride =>
    overrideWith(row, ms, '--quick');
  const { keys } = settings.watch;
  const quick = {
    checkMs: scaled(watch.checkIntervalMs),
    recheckMs: scaled(watch.recheckIntervalMs),
    retryMs: scaled(watch.retryIntervalMs),
    cooldownMs: scaled(watch.alertCooldownMs),
  };
  const { heartbeatIntervalMs } = watch;
  // A step must wait for one, and its place among the other times is what the logic knows of it.
  const longestMs = greatestOf(Object.values(quick));
  const mostBeatMs = Math.max(quickHeartbeatMs, quickHeartbeatTimes * longestMs);
  const overrides = [
    override(keys.checkInterval, quick.checkMs),
    override(keys.recheckInterval, quick.recheckMs),
    override(keys.retry.keys.interval, quick.retryMs),
    override(keys.alertCooldown, quick.cooldownMs),
    ...(heartbeatIntervalMs === null
      ? []
      : [override(keys.heartbeatInterval, Math.min(scaled(heartbeatIntervalMs), mostBeatMs))]),
  ];
  const comment = [
    `${quickHeading} ${path.basename(loaded.name ?? 'the defaults')}, scaled down. Flash firmware with the true ones afterwards.`,
  ];
  const text = overlaidWatchText(loaded.text, loaded.name ?? 'the defaults', {
    overrides,
    comment,
  });
  await writeOutput(file, [text], io);
  return loadWatch(file, io);
}

/** @throws InputProblem where a file stands that somebody wrote by hand. */
async function refuseForeign(file: string, io: Io): Promise<void> {
  if (file === '-') {
    throw problem('output-is-stdout', '--quick', {
      message: 'the checklist already goes to standard output',
      expected: 'the name of a file',
    });
  }
  let text: string;
  try {
    text = await readFile(path.resolve(io.folder, file), 'utf8');
  } catch {
    // What cannot be read is not there, or the attempt to write will tell.
    return;
  }
  if (text.startsWith(`# ${quickHeading}`)) return;
  throw problem('file-exists', file, {
    message: 'this file exists and is not from drill, so nothing was written',
    hint: 'choose another name',
  });
}
