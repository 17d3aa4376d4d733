// `dozewatch estimate` at work.

import { counted, type Diagnostic, dayMs, plain, shellWord } from '../../base/index.js';
import {
  type Evidence,
  estimateOf,
  isTooShort,
  relativePrecision,
  type Tally,
  withEvidence,
  yearsOfResample,
} from '../../estimate/index.js';
import { mostEstimatedYears } from '../../model/index.js';
import {
  bouncesTooMuch,
  evidenceOf,
  livingOf,
  localDays,
  localTime,
  resampleCount,
  type Timeline,
  type UsageProfile,
} from '../../scenarios/index.js';
import { assumptions, longerLogText } from '../../wording/index.js';
import { deviceTiming } from '../../world/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { openProgress } from '../host/progress.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { logAtEveryPhase } from '../inputs/log-at-every-phase.js';
import { bestAtRestMs, isSureAtRest } from '../inputs/proved-of.js';
import { roomTemperatureNotes } from '../inputs/room-temperature.js';
import { checkUsage, type Usage, usageOf } from '../inputs/usage-of.js';
import {
  boundsWords,
  dozewatchLine,
  nextLine,
  optionWords,
  watchWords,
} from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { pictureFormat, writePicture } from '../layout/write-picture.js';
import { problem } from '../problem.js';
import { everyPhaseWords } from '../replay/phases.js';
import { tuneTakes } from '../tune/options.js';
import { estimateJson } from './json.js';
import { type EstimateOptions, estimateTakes } from './options.js';
import { fingerprintOf, partText } from './part.js';
import { type EstimateDone, openRunner, type Runner, runEstimate } from './pool.js';
import { type EstimatePlan, planOf, yearsOf } from './readings.js';
import { estimateReport } from './report.js';
import type { EstimateQuestion } from './task.js';
import type { EstimateHead, EstimateView } from './view.js';

interface On {
  readonly io: Io;
  readonly style: Style;
}

interface Asked {
  readonly plan: EstimatePlan;
  readonly question: EstimateQuestion;
  readonly head: EstimateHead;
}

/** @throws InputProblem when a file cannot be believed or the options make no sense. */
export async function estimate(options: EstimateOptions, on: On): Promise<ExitStatus> {
  const { io } = on;
  const plan = planOf(options);
  checkUsage(options);
  await checkFiles(options, io);
  const [from, to] = yearsOf(plan.years, plan.shard);
  const runner = openRunner(to - from, plan.jobs);
  try {
    return await estimateWith(runner, { options, plan, on });
  } finally {
    await (await runner).end();
  }
}

async function estimateWith(
  runner: Promise<Runner>,
  {
    options,
    plan,
    on,
  }: { readonly options: EstimateOptions; readonly plan: EstimatePlan; readonly on: On },
): Promise<ExitStatus> {
  const { io } = on;
  const watch = await loadWatch(options.config, io, [], options.logic);
  const { watchFile } = watch;
  const { leaveOpenAfterMs } = watchFile.judge;
  const usage = await usageOf(options, { ...on, leaveOpenAfterMs, watchFile });
  await writeDiagnostics([...watch.warnings, ...roomTemperatureNotes(watch)], {
    io,
    paint: paintFor('stderr', on),
  });
  const asked = { plan, ...questionOf(options, plan, { watch, usage }) };
  const done = await runYears(asked, await runner, io);
  const { tally, resamples, stoppedBy } = done;
  if (tally.years === 0) {
    await io.stderr.write('Interrupted before the first years were done: nothing to report.\n');
    return 130;
  }
  if (options.output !== undefined) return writePart(options.output, asked, { ...done, io });
  if (stoppedBy === 'years') await warnImprecise(plan, tally, on);
  const estimated = withEvidence(estimateOf(tally, plan.confidence, resamples), asked.head.fitted);
  const log: EstimateView['log'] =
    usage.log === undefined ? null : (logAtEveryPhase(usage.log, watch) ?? 'too-long');
  const { yearsByCount } = tally;
  const { head } = asked;
  const view = { head, log, estimate: estimated, yearsByCount, stoppedBy };
  await printEstimate(view, options, on);
  return stoppedBy === 'interrupt' ? 130 : 0;
}

async function warnImprecise(
  { years, precision, confidence }: EstimatePlan,
  tally: Tally,
  on: On,
): Promise<void> {
  if (precision === null) return;
  const reached = relativePrecision(tally, precision.of, confidence);
  const warning: Diagnostic = {
    code: 'precision-not-reached',
    severity: 'warning',
    source: { file: '--precision' },
    message: `${counted(years, 'device-year')} were not enough for this precision`,
    hint: enoughFor(precision.share, { reached, years }),
  };
  await writeDiagnostics([warning], { io: on.io, paint: paintFor('stderr', on), most: 1 });
}

/** What would be precise enough: an interval narrows as the root of its years. @param reached half of it over its estimate. */
function enoughFor(
  share: number,
  { reached, years }: { readonly reached: number; readonly years: number },
): string {
  if (!Number.isFinite(reached)) {
    return 'allow more --years: none was seen in these, so they reach no precision at all';
  }
  const needed = Number((years * (reached / share) ** 2).toPrecision(2));
  const more = needed > years && needed <= mostEstimatedYears ? `--years ${String(needed)}` : null;
  const coarser = reached <= 1 ? `--precision ${String(Math.ceil(reached * 100))}%` : null;
  const ways = [
    ...(more === null ? [] : [`allow about ${more}`]),
    ...(coarser === null ? [] : [`give ${coarser}, which these years reach`]),
  ];
  return ways.length === 0 ? 'allow more --years' : ways.join(', or ');
}

/** Where an estimate goes, beside standard output. */
interface Shown {
  readonly json?: true | undefined;
  readonly chart?: string | undefined;
  readonly dark?: true | undefined;
}

/** Prints an estimate for people or for programs, and draws it where that is wanted. */
export async function printEstimate(view: EstimateView, shown: Shown, on: On): Promise<void> {
  const { io } = on;
  const style = { width: io.stdout.columns, paint: paintFor('stdout', on) };
  const { json, chart, dark } = shown;
  const { rates, missedByLoss = 0 } = view.estimate;
  // No setting of the watch makes a network lose fewer messages.
  const helped = rates.missed.count - missedByLoss + rates.falseAlarms.count;
  const next = helped > 0 ? view.head.next : '';
  if (chart !== undefined) {
    const { estimateChart } = await import('../../chart/index.js');
    const theme = dark === true ? 'dark' : 'light';
    await writePicture(chart, estimateChart({ ...view.head, ...view, options: { theme } }), io);
  }
  if (json === true) await io.stdout.write(estimateJson(view));
  else {
    await print(io, estimateReport(view, style));
    if (chart !== undefined) await print(io, `\nPicture: ${plain(chart)}\n`);
    if (next !== '') await print(io, `\n${plain(next)}\n`);
  }
}

/** Options that mean something else to `tune`, or that are given apart. */
const ofEstimates = [
  'config',
  'noConfig',
  'logic',
  'years',
  'chart',
  'dark',
  'json',
  'seed',
  'jobs',
  'output',
];

function everyPhaseLine(options: EstimateOptions, { name }: LoadedWatch): string | null {
  const { profileFrom } = options;
  if (profileFrom === undefined || profileFrom === '-') return null;
  return dozewatchLine(everyPhaseWords(profileFrom, name, { ...options }));
}

/** A search for better settings, or, where that cannot be had, what the settings can miss. */
function nextOf(
  options: EstimateOptions,
  loaded: LoadedWatch,
  { profile, log }: Pick<Usage, 'profile' | 'log'>,
): string {
  const evidence = evidenceOf(profile, loaded.watchFile.judge.leaveOpenAfterMs);
  if (evidence !== null && isTooShort(evidence))
    return nextWithLonger(options, { loaded, log, evidence });
  if (loaded.watchFile.supply === null || options.logic !== undefined) {
    const words = boundsWords(loaded, { ...options });
    return nextLine('what these settings can miss, and what to change', words);
  }
  const watch = watchWords(loaded.name, { ...options });
  const usage = optionWords({ ...options }, ofEstimates, tuneTakes);
  return nextLine('settings that do better, if there are any', ['tune', ...watch, ...usage]);
}

/** A timeline ends with the last row of its log: perhaps the door was watched until the end of that day. */
function nextWithLonger(
  options: EstimateOptions,
  on: {
    readonly loaded: LoadedWatch;
    readonly log: Timeline | undefined;
    readonly evidence: Evidence;
  },
): string {
  const { loaded, log, evidence } = on;
  const rest = `log the door for ${longerLogText(evidence)}`;
  if (options.from !== undefined || options.until !== undefined) {
    return `\nNext: ${rest}, then run the same command again.\n`;
  }
  const whole = log === undefined ? null : wholeDaysOf(log);
  // No span has more openings than the log: it helps only where the days are too few.
  const isLongEnough = !isTooShort({ days: evidence.days });
  if (whole === null && isLongEnough) return `\nNext: ${rest}.\n`;
  if (whole === null || log === undefined || options.profileFrom === '-') {
    const when = options.profileFrom === undefined ? ' as you fit the profile' : '';
    return `\nNext: if the door was watched for longer than from the first row of its log to the last, give that span with --from and --until${when}; if not, ${rest}.\n`;
  }
  const words = [
    ...['estimate', ...watchWords(loaded.name, { ...options })],
    ...optionWords({ ...options }, ['config', 'noConfig', 'logic'], estimateTakes),
    ...['--from', whole.from, '--until', whole.until],
  ];
  const why = 'if the door was watched all day on each of these days, say so';
  return `${nextLine(why, words).trimEnd()}; if not, ${rest}\n`;
}

/** The local days that a log touches; null: it does not show more openings or days than the rows alone. */
function wholeDaysOf({ start, world }: Timeline): { from: string; until: string } | null {
  const days = localDays(start, world.lengthMs);
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return null;
  const evidence = {
    days: (last.toMs - first.fromMs) / dayMs,
    openings: world.openings.fromMs.length,
  };
  if (isTooShort(evidence)) return null;
  const at = (atMs: number): string => {
    const { date, time, offset } = localTime(start, atMs);
    return `${date}T${time}${offset}`;
  };
  return { from: at(first.fromMs), until: at(last.toMs) };
}

/** @throws InputProblem when a picture cannot be written there. */
export async function checkEstimateChart(
  chart: string | undefined,
  inputs: readonly (string | undefined)[],
  io: Io,
): Promise<void> {
  if (chart === undefined) return;
  refuseStdout('--chart', chart);
  await refuseUnfitOutputs([{ option: '--chart', file: chart }], { inputs, io });
  pictureFormat(chart);
}

async function checkFiles(options: EstimateOptions, io: Io): Promise<void> {
  const { config, logic, profile, profileFrom, output, chart } = options;
  await checkEstimateChart(chart, [config, logic, profile, profileFrom], io);
  if (output === undefined) return;
  refuseStdout('--output', output);
  const outputs = [{ option: '--output', file: output }];
  await refuseUnfitOutputs(outputs, { inputs: [config, logic, profile, profileFrom], io });
}

function questionOf(
  options: EstimateOptions,
  plan: EstimatePlan,
  of: { readonly watch: LoadedWatch; readonly usage: Usage },
): { readonly question: EstimateQuestion; readonly head: EstimateHead } {
  const { watch, timing, judge, contact } = of.watch.watchFile;
  const { seed } = options;
  const { outages, powerCuts } = plan;
  const habits = { profile: of.usage.profile, contact, outages, powerCuts };
  if (bouncesTooMuch(habits)) {
    throw problem('too-many-edges', options.config ?? '--profile', {
      message: 'the contact would change too many times per year',
      hint: 'lower contact.bounceTime in the watch file',
    });
  }
  const { leaveOpenAfterMs, reportWithinMs } = judge;
  const head = {
    seed,
    yearsAsked: plan.years,
    profile: of.usage.name,
    watch: of.watch.name,
    logic: options.logic ?? null,
    leaveOpenAfterMs,
    reportWithinMs,
    outages,
    powerCuts,
    resamples: resamplesFor(of.usage.profile, plan.years),
    fitted: evidenceOf(of.usage.profile, leaveOpenAfterMs),
    sureAtRest: isSureAtRest(of.watch),
    bestAtRestMs: bestAtRestMs(of.watch),
    assumes: assumptions(of.watch.watchFile),
    next: nextOf(options, of.watch, of.usage).trim(),
    everyPhase: everyPhaseLine(options, of.watch),
  };
  const { table } = of.watch.program;
  const living = livingOf(of.watch.watchFile);
  return {
    question: { seed, watch, table, timing: deviceTiming({}, timing), judge, habits, living },
    head,
  };
}

function resamplesFor(profile: UsageProfile, years: number): EstimateHead['resamples'] {
  const count = resampleCount(profile);
  return count === 0 ? null : { count, yearsEach: yearsOfResample(years, count) };
}

async function runYears({ plan, question, head }: Asked, runner: Runner, io: Io) {
  const { precision, confidence } = plan;
  const [from, to] = yearsOf(plan.years, plan.shard);
  const progress = openProgress(io, 'simulating device-years');
  const precise = (tally: Tally): boolean =>
    precision !== null && relativePrecision(tally, precision.of, confidence) <= precision.share;
  const onDone = (share: number): void => progress.at(share);
  const [first, last] = yearsOf(head.resamples?.count ?? 0, plan.shard);
  const resamples = { from: first, to: last, years: head.resamples?.yearsEach ?? 0 };
  const done = await runEstimate({ question, from, to, resamples, precise, onDone }, runner);
  progress.end();
  return done;
}

async function writePart(
  file: string,
  { plan, question, head }: Asked,
  done: EstimateDone & { readonly io: Io },
): Promise<ExitStatus> {
  const { tally, resamples, stoppedBy, io } = done;
  if (stoppedBy === 'interrupt') {
    await io.stderr.write(
      'Interrupted: a part is of use only when it is whole, so none is written.\n',
    );
    return 130;
  }
  const [from, to] = yearsOf(plan.years, plan.shard);
  const fingerprint = fingerprintOf(question);
  const [resamplesFrom] = yearsOf(head.resamples?.count ?? 0, plan.shard);
  const part = { head, fingerprint, from, to, tally, resamplesFrom, resamples };
  await writeOutput(file, [partText(part)], io);
  const span = `${counted(to - from, 'device-year')} of ${String(plan.years)}`;
  const count = plan.shard?.of ?? 0;
  const all = count === 2 ? 'both parts' : `all ${counted(count, 'part')}`;
  const next =
    plan.shard === null
      ? 'dozewatch merge with it'
      : `once each is written, name ${all}: dozewatch merge ${shellWord(plain(file))} …`;
  await print(io, `Part written: ${plain(file)} (${span})\nNext: ${next}\n`);
  return 0;
}
