// `dozewatch report` at work: every timeline is run and judged, the watch is searched, and one page says it all.

import { plain } from '../../base/index.js';
import { wakesOnPage } from '../../chart/index.js';
import { mostPagePhaseSteps, mostReportReasons } from '../../model/index.js';
import {
  type ReportBounds,
  type ReportTimeline,
  reportBar,
  reportBattery,
  reportBounds,
  reportHtml,
  reportTimeline,
  sharedCommandLine,
  sharedWords,
} from '../../report/index.js';
import { verdictWords } from '../../wording/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import { searchAll } from '../bounds/search.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseOtherEnding } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { givenName, loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { barOfWatch, provedOfWatch } from '../inputs/proved-of.js';
import { cautionWords } from '../layout/caution.js';
import { pack, shippedScript } from '../layout/page-script.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { version } from '../program.js';
import { type Replay, replayOne } from '../replay/one.js';
import { everyPhaseOf, everyPhaseWords } from '../replay/phases.js';
import type { ReportOptions } from './options.js';

/** @throws InputProblem for input that cannot be read or believed, and for a page that cannot be written. */
export async function report(
  inputs: readonly string[],
  options: ReportOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const { config, output } = options;
  checkInputs(inputs, options, config);
  const outputs = [{ option: '--output', file: output }];
  await refuseUnfitOutputs(outputs, { inputs: [...inputs, config], io });
  refuseOtherEnding(output, 'the report is a page', '.html');
  const watch = await loadWatch(config, io);
  const stderr = paintFor('stderr', on);
  await writeDiagnostics(watch.warnings, { io, paint: stderr });
  const replays: Replay[] = [];
  for (const input of inputs) {
    const timeline = await loadTimeline(input, watch.watchFile, options, io);
    replays.push(replayOne(timeline, watch));
  }
  const html = await pageOf(replays, watch, { options, inputs, io });
  if (output === '-') await io.stdout.write(html);
  else await writeOutput(output, [html], io);
  if (output !== '-') await summarise(replays, watch, { ...on, options });
  return 0;
}

/** One timeline alone as a page to zoom into. */
export async function timelinePage(
  replay: Replay,
  watch: LoadedWatch,
  on: {
    readonly title?: string | undefined;
    readonly commandLine?: string | undefined;
    /** The options of the command, for the one that judges every phase. */
    readonly typed?: Readonly<Record<string, unknown>> | undefined;
  },
): Promise<string> {
  const title = plain(on.title ?? replay.timeline.name);
  const page = await pageParts([replay], watch, on.typed ?? {});
  return reportHtml({
    ...page,
    title,
    bounds: null,
    battery: null,
    commandLine: on.commandLine ?? sharedCommandLine('chart', [replay.timeline.file], {}),
  });
}

async function pageOf(
  replays: readonly Replay[],
  watch: LoadedWatch,
  on: { readonly options: ReportOptions; readonly inputs: readonly string[]; readonly io: Io },
): Promise<string> {
  const { options, inputs, io } = on;
  const first = replays[0]?.timeline.name ?? 'dozewatch';
  const title =
    options.title ?? (replays.length === 1 ? first : `${first} and ${replays.length - 1} more`);
  return reportHtml({
    ...(await pageParts(replays, watch, { ...options })),
    title: plain(title),
    bounds: options.bounds ? await boundsOf(watch, io) : null,
    battery: reportBattery(
      replays.map(({ timeline: { file, name }, use }) => ({ file, name, use })),
      watch,
    ),
    commandLine: sharedCommandLine('report', inputs, { ...options }),
  });
}

/** What every page has. */
async function pageParts(
  replays: readonly Replay[],
  watch: LoadedWatch,
  typed: Readonly<Record<string, unknown>>,
) {
  const bar = barOfWatch(watch);
  return {
    watchFile: watch.watchFile,
    timelines: replays.map((replay) => timelineOf(replay, watch, typed)),
    bar: bar === null ? null : reportBar(bar),
    watchName: watch.name,
    version,
    caution: cautionWords,
    script: await shippedScript('report'),
    pack,
  };
}

/** @param typed the options of the command. */
function timelineOf(
  replay: Replay,
  watch: LoadedWatch,
  typed: Readonly<Record<string, unknown>>,
): ReportTimeline {
  const { watchFile, name } = watch;
  const explanations = replay.explained(mostReportReasons);
  const { timeline, trace, verdict } = replay;
  const record = wakesOnPage({ timeline, trace, verdict, watchFile }, explanations);
  const every = everyPhaseOf(replay, watch, mostPagePhaseSteps);
  const phases = every === null ? null : { every, areJudged: true };
  const proved = provedOfWatch(watch);
  const view = { ...replay, explanations, watchFile, watchName: name, proved, phases };
  const phasesCommand = sharedWords(everyPhaseWords(timeline.file, name, typed));
  return reportTimeline(view, { trace: replay.traced(record), phasesCommand });
}

async function boundsOf(watch: LoadedWatch, io: Io): Promise<ReportBounds | null> {
  const { watchFile } = watch;
  const task = { watchFile, table: watch.program.table, ownLogic: false };
  const [outcome] = await searchAll([task], io);
  if (outcome?.kind !== 'found') return null;
  const { bounds } = outcome;
  return reportBounds({ watchName: watch.name, overrides: [], watchFile, bounds, isJudged: true });
}

async function summarise(
  replays: readonly Replay[],
  watch: LoadedWatch,
  on: { readonly io: Io; readonly style: Style; readonly options: ReportOptions },
): Promise<void> {
  const { io } = on;
  const { output, json } = on.options;
  if (json === true) {
    const timelines = replays.map(({ timeline: { file, name }, verdict: { summary } }) => ({
      file,
      name,
      summary,
    }));
    const written = { schema: 'dozewatch/report/1', written: [output], timelines };
    await io.stdout.write(`${JSON.stringify(written, null, 2)}\n`);
    return;
  }
  const colours = paintFor('stdout', on);
  for (const replay of replays) {
    const { watchFile } = watch;
    const words = verdictWords({ ...replay, watchFile, proved: provedOfWatch(watch) }, colours);
    await print(io, `${plain(givenName(replay.timeline))}: ${words}.\n`);
  }
  await print(io, `Report: ${plain(output)}\n`);
}
