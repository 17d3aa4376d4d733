// The results of replays, whatever ran the device: files, JSON or reports, and the exit status.

import { counted, itemAt, numberText, plain, sentence } from '../../base/index.js';
import { mostReasonEdges, mostReplayReasons } from '../../model/index.js';
import { localTime } from '../../scenarios/index.js';
import {
  cutOffEndMs,
  happenedWords,
  held,
  heldAtEveryPhase,
  laterEndMs,
  mayHide,
  missesOnlyAtEnd,
  type PhasesView,
  plainCut,
} from '../../wording/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseSeveral, refuseStdout } from '../host/outputs.js';
import { openProgress } from '../host/progress.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { type Output, refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { givenName } from '../inputs/load-timeline.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { provedOfWatch } from '../inputs/proved-of.js';
import type { Paint } from '../layout/paint.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { type ReplayToPrint, replaysJson } from './json.js';
import type { Replay } from './one.js';
import { phasesOf } from './phases.js';
import { replayReport } from './report.js';

/** Options of `replay` and `rig` that are about what comes out. */
export interface OutputOptions {
  readonly json?: true | undefined;
  readonly all?: true | undefined;
  readonly trace?: string | undefined;
  readonly chart?: string | undefined;
  readonly everyPhase?: true | undefined;
}

/** Rows of a table, and sentences that explain, unless `--all` asks for every row. */
const fewRows = 20;

/** @throws InputProblem for files that may not be written, before anything is run. */
export async function checkOutputs(
  inputs: readonly string[],
  options: OutputOptions,
  on: { readonly files: readonly (string | undefined)[]; readonly io: Io },
): Promise<void> {
  const outputs: Output[] = [];
  for (const [option, file] of [
    ['--trace', options.trace],
    ['--chart', options.chart],
  ] as const) {
    if (file === undefined) continue;
    refuseSeveral(option, inputs);
    refuseStdout(option, file);
    outputs.push({ option, file });
  }
  await refuseUnfitOutputs(outputs, { inputs: on.files, io: on.io });
}

/** What the replays found, at this phase or, where all are judged, at any. */
export interface ReplayFindings {
  /** 0 when no timeline has a finding, else 1. */
  readonly status: ExitStatus;
  /** A leave-open was missed or late. */
  readonly misses: boolean;
  readonly alarmsFalsely: boolean;
  /** The end with which all that was missed would be reported, since an end too early is all that was wrong; null: it is not. */
  readonly laterEndMs: number | null;
}

/** Writes files, prints JSON or reports. */
export async function printReplays(
  ran: readonly Replay[],
  watch: LoadedWatch,
  on: { readonly io: Io; readonly style: Style; readonly options: OutputOptions },
): Promise<ReplayFindings> {
  const { io, options } = on;
  const replays: ReplayWithPhases[] = [];
  for (const one of ran) {
    const wantsEvery = options.everyPhase === true;
    const saysNothing = options.json === true && !wantsEvery;
    const progress = openProgress(io, phasesLabel(one), { atOnce: true });
    if (wantsEvery && one.verdict.summary.openings >= manyOpenings) progress.at(null);
    const phases = saysNothing ? null : phasesOf(one, watch, wantsEvery);
    progress.end();
    replays.push({ ...one, phases });
  }
  for (const one of replays) await writeFiles(one, watch, { options, io });
  if (options.json === true) await printJson(replays, watch, { io, paint: paintFor('stderr', on) });
  else await printReports(replays, watch, on);
  return {
    status: replays.every(isClean) ? 0 : 1,
    misses: replays.some(({ verdict, phases }) => {
      const { missed, late } = verdict.summary;
      const every = judgedPhases(phases);
      return (
        missed + late + (every?.summary.expectedMissed ?? 0) + (every?.summary.expectedLate ?? 0) >
        0
      );
    }),
    alarmsFalsely: replays.some(
      ({ verdict, phases }) =>
        verdict.summary.falseAlarms + (judgedPhases(phases)?.summary.expectedFalseAlarms ?? 0) > 0,
    ),
    laterEndMs: replays.length === 1 ? endTooEarly(itemAt(replays, 0), watch) : null,
  };
}

function endTooEarly(
  { timeline, verdict, phases }: ReplayWithPhases,
  { watchFile }: LoadedWatch,
): number | null {
  const judged = { timeline, verdict, watchFile, proved: null };
  const { missed, late } = verdict.summary;
  const every = judgedPhases(phases);
  const everyMisses = (every?.summary.expectedMissed ?? 0) + (every?.summary.expectedLate ?? 0);
  if (missed + late + everyMisses === 0) return null;
  const isCut = missed + late === 0 || (missed === 1 && late === 0 && cutOffEndMs(judged) !== null);
  const areCut = every === null || everyMisses === 0 || missesOnlyAtEnd(every, judged);
  return isCut && areCut ? laterEndMs(timeline) : null;
}

function judgedPhases(phases: PhasesView | null): PhasesView['every'] {
  return phases?.areJudged === true ? phases.every : null;
}

/** From this number of openings on, every phase takes longer than a person waits without a word. */
const manyOpenings = 1_000;

function phasesLabel({ timeline, verdict }: Replay): string {
  return `judging every phase of ${plain(givenName(timeline))} (${counted(verdict.summary.openings, 'opening')})`;
}

/** A replay, and what other phases of it do. */
interface ReplayWithPhases extends Replay {
  readonly phases: PhasesView | null;
}

/** Whether a timeline has no finding, at this phase or, where all are judged, at any. */
function isClean({ timeline, verdict, unmet, firmware, phases }: ReplayWithPhases): boolean {
  const runs = (firmware?.failure ?? null) === null;
  const every = judgedPhases(phases);
  const isEveryPhaseClean = every === null || heldAtEveryPhase(every);
  const isMet = unmet === null || unmet.length === 0;
  return runs && held(verdict.summary) && !mayHide(timeline) && isMet && isEveryPhaseClean;
}

async function writeFiles(
  one: Replay,
  watch: LoadedWatch,
  on: { readonly options: OutputOptions; readonly io: Io },
): Promise<void> {
  const { options, io } = on;
  if (options.trace !== undefined) {
    await writeOutput(options.trace, one.lines(), io);
  }
  if (options.chart !== undefined) {
    const { draw } = await import('../chart/draw.js');
    await draw(options.chart, one, { watch, look: { typed: { ...options } }, io });
  }
}

async function writeAll(pieces: Iterable<string>, io: Io): Promise<void> {
  for (const piece of pieces) await io.stdout.write(piece);
}

async function printJson(
  replays: readonly ReplayWithPhases[],
  watch: LoadedWatch,
  { io, paint }: { readonly io: Io; readonly paint: Paint },
): Promise<void> {
  for (const { timeline } of replays) {
    await writeDiagnostics(timeline.remarks, { io, paint });
  }
  const parts: ReplayToPrint[] = [];
  for (const one of replays) {
    const proved = one.firmware === null ? provedOfWatch(watch) : null;
    const reasons = one.explained(reasonsFor(one.experiment.world.contact.length));
    parts.push({ ...one, reasons, proved });
  }
  await writeAll(replaysJson(watch, parts), io);
  await io.stdout.write('\n');
}

async function printReports(
  replays: readonly ReplayWithPhases[],
  watch: LoadedWatch,
  on: { readonly io: Io; readonly style: Style; readonly options: OutputOptions },
): Promise<void> {
  const { io, options } = on;
  const colours = paintFor('stdout', on);
  const rows = options.all === true ? Number.POSITIVE_INFINITY : fewRows;
  for (const [index, one] of replays.entries()) {
    if (index > 0) await io.stdout.write('\n\n');
    const { timeline, experiment, verdict, alerts, use, unmet, firmware, phases, trace } = one;
    const limit = Math.min(rows, reasonsFor(experiment.world.contact.length));
    const explanations = one.explained(limit);
    const moments = (atMs: number) => localTime(timeline.start, atMs);
    const proved = firmware === null ? provedOfWatch(watch) : null;
    const judged = { timeline, verdict, alerts, use, explanations, unmet, trace };
    const { watchFile, name: watchName, logicName } = watch;
    const report = {
      ...judged,
      moments,
      firmware,
      proved,
      phases,
      watchFile,
      watchName,
      logicName,
    };
    const shape = { width: io.stdout.columns, rows };
    for (const piece of replayReport(report, shape, colours)) await print(io, piece);
  }
  if (replays.length > 1) {
    await print(io, summaryText(replays, watch, colours));
  }
  for (const [what, file] of [
    ['Trace', options.trace],
    ['Picture', options.chart],
  ] as const) {
    if (file !== undefined) await print(io, `\n${what}: ${plain(file)}\n`);
  }
}

/** What was found in each of several timelines. */
function summaryText(
  replays: readonly ReplayWithPhases[],
  { watchFile }: LoadedWatch,
  paint: Paint,
): string {
  const clean = replays.filter(isClean).length;
  const count = replays.length;
  const what =
    clean === 0
      ? `each of the ${numberText(count)} timelines has a finding`
      : clean === count
        ? `none of the ${numberText(count)} timelines has a finding`
        : `${numberText(clean)} of ${numberText(count)} timelines ${clean === 1 ? 'has' : 'have'} no finding`;
  const head = `\n${sentence(what)}\n`;
  const lines = replays.map(
    ({ timeline, verdict }) =>
      `  ${plainCut(givenName(timeline), 200)}: ${happenedWords({ timeline, verdict, proved: null, watchFile }, paint)}\n`,
  );
  return head + lines.join('');
}

function reasonsFor(edges: number): number {
  const affordable = Math.floor(mostReasonEdges / (edges + 1));
  return Math.max(fewRows, Math.min(mostReplayReasons, affordable));
}
