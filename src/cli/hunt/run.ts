// `dozewatch hunt`: hunts in small parts, so that it can watch the time and react to an interrupt.

import { setImmediate } from 'node:timers/promises';
import { durationText, shellWord, writeDuration } from '../../base/index.js';
import {
  alikeProperty,
  type Breach,
  breachOf,
  type Finding,
  type HuntQuestion,
  type HuntResult,
  hunt,
  type NamedProperty,
  namedProperties,
  type Played,
  type Property,
  runTrial,
  summaryOf,
  trialSeed,
} from '../../hunt/index.js';
import { mostHuntedRuns } from '../../model/index.js';
import { type MutantProgram, mutantProgram } from '../../mutants/index.js';
import type { Experiment } from '../../sim/index.js';
import type { Explanation, Verdict } from '../../verdict/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { openProgress } from '../host/progress.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { asRun } from '../layout/command-line.js';
import { watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { underASecondMs, withinASecond } from '../layout/within-a-second.js';
import { huntJson } from './json.js';
import type { HuntOptions } from './options.js';
import { type Faults, faultsIn, mostFaults, proofLine } from './proof-line.js';
import { type HuntPlan, mutantNamed, planOf, seedOfPart } from './readings.js';
import {
  alikeReport,
  type ExcusedBreaches,
  type HuntView,
  huntReport,
  scenarioBelow,
} from './report.js';
import { differenceFrom, findingText, firmwareWish, wishFor } from './scenario.js';
import { type Reason, reasonOf, reasonsFor } from './why.js';

/** Timelines between two looks at the clock. */
const runsAtOnce = 100;
/** A firmware takes longer. */
const deviceRunsAtOnce = 20;

/** The longest list of properties in a line on progress. */
const mostLabel = 40;

interface Hunt {
  readonly options: HuntOptions;
  readonly plan: HuntPlan;
  readonly watch: LoadedWatch;
  readonly question: HuntQuestion;
  /** Null: the hunt is for a breach of the watch's own requirements. */
  readonly faulty: MutantProgram | null;
  /** Null: the machine of the watch file is hunted. */
  readonly device: HuntedDevice | null;
}

/** What is hunted in place of the machine of the watch file. */
export interface HuntedDevice {
  readonly run: (experiment: Experiment) => Played;
  readonly properties: readonly NamedProperty[];
  /** Breaches so far that the machine of the watch file shows on the same timeline, and that do not count. */
  readonly excused: () => ExcusedBreaches;
  /** Sentences on an opening or an alert of an experiment that it has just run. */
  readonly explained: (
    experiment: Experiment,
    verdict: Verdict,
    subject: NonNullable<Breach['subject']>,
  ) => readonly Explanation[];
  /** What decided a breach, line by line. */
  readonly deciding: (experiment: Experiment, subject: Breach['subject']) => readonly string[];
  /** Whether it decides like the machine of the watch file, each instant at most this far from where it is due. */
  readonly isLikeTheMachine: (experiment: Experiment, toleranceMs: number) => boolean;
  /** The option that asked for it. */
  readonly option: string;
  /** What its clock reads at power-on. */
  readonly clockStartsMs: number;
  /** How far an instant may be from where it is due. */
  readonly toleranceMs: number;
  /** The command line that runs the same device with these words. */
  readonly commandWith: (words: readonly string[]) => string;
}

/** @throws InputProblem when the watch file cannot be believed or the options make no sense. */
export async function huntWatch(
  options: HuntOptions,
  on: {
    readonly io: Io;
    readonly style: Style;
    readonly deviceOf?: (watch: LoadedWatch) => HuntedDevice;
  },
): Promise<ExitStatus> {
  const { io } = on;
  const { output } = options;
  if (output !== undefined) {
    refuseStdout('--output', output);
    const outputs = [{ option: '--output', file: output }];
    await refuseUnfitOutputs(outputs, { inputs: [options.config, options.logic], io });
  }
  const watch = await loadWatch(options.config, io, [], options.logic);
  const one = huntOf(options, watch, on.deviceOf?.(watch) ?? null);
  const paint = paintFor('stdout', on);
  await writeDiagnostics(watch.warnings, { io, paint: paintFor('stderr', on) });
  if (one.faulty?.alike === true) {
    const { fault } = one.faulty;
    if (options.json === true) await io.stdout.write(huntJson(null));
    else await print(io, alikeReport(fault, paint));
    return 0;
  }
  const result = await huntOn(one, io);
  const { found } = result;
  const scenario = found === null ? null : scenarioOf(one, found, io);
  if (output !== undefined && scenario !== null) await writeOutput(output, [scenario], io);
  const view = viewOf(one, { ...result, scenario });
  if (options.json === true) await io.stdout.write(huntJson(view));
  else {
    await print(io, huntReport(view, paint));
    await io.stdout.write(scenarioBelow(view));
  }
  return found === null ? 0 : 1;
}

function huntOf(options: HuntOptions, watch: LoadedWatch, device: HuntedDevice | null): Hunt {
  const { watchFile, program } = watch;
  const asked = planOf(options, watchFile);
  const plan = device === null ? asked : { ...asked, properties: device.properties };
  const { timing } = watchFile;
  const faulty =
    options.mistake === undefined
      ? null
      : mutantProgram(program, timing, mutantNamed(options.mistake));
  const properties: readonly Property[] =
    faulty === null
      ? plan.properties.map(({ property }) => property)
      : [alikeProperty(faulty.fault.name, faulty.program)];
  const { judge, contact } = watchFile;
  const { adversity, lengthMs } = plan;
  const { watch: settings } = watchFile;
  const question = {
    watch: settings,
    program,
    timing,
    judge,
    contact,
    adversity,
    lengthMs,
    properties,
    run: device?.run,
    clockStartsMs: device?.clockStartsMs,
    toleranceMs: device?.toleranceMs,
  };
  return { options, plan, watch, question, faulty, device };
}

/** What is being tried, for the progress line. */
function progressLabel({ properties, lengthMs }: HuntPlan): string {
  const names = properties.map(({ property }) => property.name).join(', ');
  const what = names.length > mostLabel ? `${names.slice(0, mostLabel)}…` : names;
  return `hunting in timelines of up to ${durationText(lengthMs)}: ${what}`;
}

/** A part after the other, each with its own seed, until one finds something or a limit is reached. */
async function huntOn({ plan, question, device }: Hunt, io: Io): Promise<HuntResult> {
  const startMs = io.elapsed();
  const progress = openProgress(io, progressLabel(plan));
  let runs = 0;
  let latestOpeningMs = 0;
  for (let part = 0; ; part += 1) {
    const seed = seedOfPart(plan.seed, part);
    const wanted = Math.min(device === null ? runsAtOnce : deviceRunsAtOnce, plan.runs - runs);
    const result = hunt(question, { seed, runs: wanted, path: plan.path });
    runs += result.runs;
    latestOpeningMs = Math.max(latestOpeningMs, result.latestOpeningMs);
    const spentMs = io.elapsed() - startMs;
    const timeIsUp = plan.forMs !== null && spentMs >= plan.forMs;
    if (result.found !== null || timeIsUp || runs >= plan.runs || plan.path !== undefined) {
      progress.end();
      return { found: result.found, runs, latestOpeningMs };
    }
    progress.at(Math.max(runs / plan.runs, plan.forMs === null ? 0 : spentMs / plan.forMs));
    await setImmediate();
  }
}

/** The counterexample as the text of a scenario. */
function scenarioOf(one: Hunt, finding: Finding, { environment }: Io): string {
  const { question, faulty, watch, device } = one;
  const ran = runTrial(question, finding.trial);
  const { summary } = ran.verdict;
  const ofFirmware =
    device === null ? null : firmwareWish(finding, ran, summaryOf(ran, question.program));
  const expect =
    ofFirmware !== null
      ? ofFirmware.expect
      : faulty === null
        ? wishFor(finding, ran)
        : differenceFrom(summaryOf(ran, faulty.program), summary);
  const found = { finding, question, watchFile: watch.watchFile, expect };
  return findingText(found, {
    name: nameOf(one, finding),
    comment: [
      faulty === null
        ? `Found by a hunt: ${finding.breach.what}.`
        : `Found by a hunt: a watch with this mistake gets another verdict here (${finding.breach.what}).`,
      ...(ofFirmware === null ? [] : [ofFirmware.words]),
      `Again: ${asRun(againCommand(one, finding), environment)}`,
    ],
  });
}

function nameOf({ faulty }: Hunt, { breach }: Finding): string {
  if (faulty !== null) return `Reveals the mistake: ${faulty.fault.mistake}`;
  return `Found by a hunt: ${breach.what}`;
}

/** The watch that was hunted, without its logic: a rig has none. */
function watchOf({ options, watch }: Pick<Hunt, 'options' | 'watch'>): readonly string[] {
  const given: Readonly<Record<string, unknown>> = { ...options };
  return watchWords(watch.name, { noConfig: given['noConfig'] });
}

/** The command line that leads straight to a finding. */
function againCommand({ options, watch, device }: Hunt, { seed, path: way }: Finding): string {
  const words = [...watchOf({ options, watch }), ...huntWords(options)];
  words.push('--seed', String(seed), '--path', way);
  if (device !== null) return device.commandWith([device.option, ...words]);
  return `dozewatch hunt ${words.map(shellWord).join(' ')}`;
}

/** The command line of the whole hunt, as it was typed. */
function wholeCommand({ options, watch, device }: Hunt): string {
  const words = [...watchOf({ options, watch }), ...huntWords(options)];
  for (const key of ['seed', 'runs', 'for'] as const) {
    const value = options[key];
    if (value !== undefined) words.push(`--${key}`, value);
  }
  return device === null
    ? `dozewatch hunt ${words.map(shellWord).join(' ')}`
    : device.commandWith([device.option, ...words]);
}

function viewOf(one: Hunt, result: HuntResult & { readonly scenario: string | null }): HuntView {
  const { options, plan, watch, question, faulty, device } = one;
  const excused = device?.excused() ?? { timelines: 0, each: [], isAll: true };
  const base = {
    properties: faulty === null ? plan.properties.map(({ property }) => property) : [],
    fault: faulty?.fault ?? null,
    adversity: plan.adversity,
    lengthMs: plan.lengthMs,
    seed: plan.seed,
    runs: result.runs,
    latestOpeningMs: result.latestOpeningMs,
    excused,
    isExcusedProved: excused.each.some(({ property }) => isProved(property)),
    proof: () => proofLine(one, mostFaults(plan.adversity)),
    unproved: unprovedOf(one),
    more: moreCommand(one, result.runs),
    isFirmware: device !== null,
    hasSupply: watch.watchFile.supply !== null,
  };
  const { found, scenario } = result;
  if (found === null || scenario === null) return { ...base, found: null };
  const ran = runTrial(question, found.trial);
  const { program } = question;
  const { timing } = found.trial;
  const experiment = { program, timing, world: ran.world, seed: trialSeed };
  const ofDevice = ({ explained }: HuntedDevice): readonly Reason[] => {
    const { subject } = found.breach;
    if (subject === null) return [];
    return explained(experiment, ran.verdict, subject).map(({ sentence }) => ({
      of: reasonOf(found.breach),
      sentence,
    }));
  };
  const replayWords = [options.output ?? 'FILE', ...watchOf(one)];
  return {
    ...base,
    found: {
      finding: found,
      verdict: ran.verdict,
      mutantSummary: faulty === null ? null : summaryOf(ran, faulty.program),
      reasons: device === null ? reasonsFor(found.breach, ran, experiment) : ofDevice(device),
      deciding: [
        ...(device?.deciding(experiment, found.breach.subject) ?? []),
        ...(device?.isLikeTheMachine(experiment, underASecondMs) === true &&
        isWithinASecond(question, found)
          ? [withinASecond]
          : []),
      ],
      timing: question.timing,
      scenario,
      saved: options.output ?? null,
      again: againCommand(one, found),
      replay:
        device?.commandWith(replayWords) ??
        `dozewatch replay ${replayWords.map(shellWord).join(' ')}`,
      next: nextStep(one, found),
    },
  };
}

/** The line above tries one timeline only. */
function afterCorrecting(what: string, one: Hunt): string {
  return `correct ${what}, and run the line above again. Once it finds nothing, hunt in all timelines again: ${wholeCommand(one)}`;
}

/** What to do about a finding; null: of a mistake there is nothing to mend. */
function nextStep(one: Hunt, { breach, trial }: Finding): string | null {
  const { options, faulty, device } = one;
  if (device !== null) {
    return afterCorrecting('the firmware', one);
  }
  if (faulty !== null) return null;
  if (options.logic !== undefined) return afterCorrecting('your machine or the settings', one);
  if (isProved(breach.property)) return proofLine(one, faultsIn(trial)).command;
  if (breach.property === 'no-false-alarm') {
    return `how often that happens in a year: ${estimateLine(one, [])}`;
  }
  const rates = ratesOf(faultsIn(trial));
  return rates.length === 0
    ? null
    : `what that costs in a year, with example rates: ${estimateLine(one, rates)}`;
}

function estimateLine(one: Hunt, rates: readonly string[]): string {
  return `dozewatch ${['estimate', ...watchOf(one), ...rates].map(shellWord).join(' ')}`;
}

/** The faults of a finding as the rates of an estimate, which has none for resets. How often they come is only an example. */
function ratesOf(faults: Faults): readonly string[] {
  return [
    ...(faults.outages === 0
      ? []
      : ['--outage-rate', '12/year', '--outage-lasting', writeDuration(faults.longestOutageMs)]),
    ...(faults.powerLosses === 0
      ? []
      : [
          ...['--power-loss-rate', '2/year'],
          ...['--power-loss-lasting', writeDuration(faults.longestPowerLossMs)],
        ]),
  ];
}

/** The same hunt with ten times the timelines; null: with no more than it had. */
function moreCommand({ options, watch, plan, device }: Hunt, runs: number): string | null {
  const more = Math.min(mostHuntedRuns, 10 * runs);
  if (more <= runs || device !== null) return null;
  const words = [...watchOf({ options, watch }), ...huntWords(options)];
  if (options.seed !== undefined) words.push('--seed', String(plan.seed));
  return `dozewatch hunt ${[...words, '--runs', String(more)].map(shellWord).join(' ')}`;
}

/** What a hunt looks for, as it was typed. */
function huntWords(options: HuntOptions): string[] {
  const words: string[] = [];
  for (const key of ['logic', 'property', 'with', 'mistake', 'length'] as const) {
    const value = options[key];
    if (value !== undefined) words.push(`--${key}`, value);
  }
  if (options.calm === true) words.push('--calm');
  return words;
}

function isProved(name: string): boolean {
  return namedProperties.some(
    ({ property, isRequirement }) => property.name === name && isRequirement === true,
  );
}

function unprovedOf({ faulty, plan }: Hunt): readonly string[] {
  if (faulty !== null) return [];
  return plan.properties.map(({ property }) => property.name).filter((name) => !isProved(name));
}

/** Whether a finding is gone where instants may be less than a second from where they are due, also as it was drawn: a reduced timeline is near the border anyway. */
function isWithinASecond(question: HuntQuestion, { trial, drawn }: Finding): boolean {
  if ((question.toleranceMs ?? 0) > 0) return false;
  const tolerant = { ...question, toleranceMs: underASecondMs };
  return [trial, drawn].every((one) => breachOf(tolerant, one) === null);
}
