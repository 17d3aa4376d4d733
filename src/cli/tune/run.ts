// `dozewatch tune` at work: every setting of the ranges is proved, those that may do are simulated over years of use,
// and what nothing beats is shown.

import { type Diagnostic, greatestOf, plain } from '../../base/index.js';
import { lastsText } from '../../battery/index.js';
import { gapsOf } from '../../bounds/index.js';
import {
  livingOf,
  overlaidWatchText,
  parseDuration,
  resampleCount,
  settingLines,
  type WatchFile,
} from '../../scenarios/index.js';
import {
  changesFrom,
  type Proved,
  prover,
  type Trial,
  type Tuned,
  type TuneQuestion,
  tunedOf,
  tuneQuestionOf,
} from '../../tune/index.js';
import { assumptions, gapsWords, tunedOverrides } from '../../wording/index.js';
import type { Style } from '../command.js';
import { onInterrupt } from '../host/interrupt.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { type Output, refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { roomTemperatureNotes } from '../inputs/room-temperature.js';
import { supplyOf } from '../inputs/supply-of.js';
import { checkUsage, usageOf } from '../inputs/usage-of.js';
import { nextLine, optionWords, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { pictureFormat, writePicture } from '../layout/write-picture.js';
import { problem } from '../problem.js';
import { beyondRatesOf, restRequiredOf } from './beyond-rates.js';
import { settingsToTry } from './grid.js';
import { relaxedBy } from './impossible.js';
import { tuneJson } from './json.js';
import type { TuneOptions } from './options.js';
import { requirementsOf, tuneConfidence, yearsFor } from './readings.js';
import { tuneReport } from './report.js';
import { searchSettings, type TuneHalted } from './search.js';
import type { TuneView } from './view.js';
import { requirementText } from './words.js';

interface On {
  readonly io: Io;
  readonly style: Style;
}

/** @throws InputProblem for input that cannot be read or believed, and for requirements that contradict. */
export async function tune(options: TuneOptions, on: On): Promise<ExitStatus> {
  const { io } = on;
  checkUsage(options);
  await checkOutputs(options, io);
  const watch = await loadWatch(options.config, io);
  const interrupt = new AbortController();
  const release = onInterrupt(() => interrupt.abort());
  const view = await viewOf(options, watch, { ...on, halt: interrupt.signal }).finally(release);
  if ('kind' in view) return await tellHalted(view, io);
  await writeDiagnostics([...watch.warnings.map(withoutAdvice), ...roomTemperatureNotes(watch)], {
    io,
    paint: paintFor('stderr', on),
  });
  await writeOutputs(options, view, { watch, io });
  if (options.json === true) await io.stdout.write(tuneJson(view));
  else await report(options, view, on);
  return view.answer.recommended === null ? 1 : 0;
}

/** Warnings that the present settings do not meet a requirement: what to set instead is what the search answers. */
const ofPresent: readonly string[] = ['report-late-at-rest', 'leave-open-too-short-at-rest'];

function withoutAdvice({ hint, ...warning }: Diagnostic): Diagnostic {
  return hint === undefined || ofPresent.includes(warning.code) ? warning : { ...warning, hint };
}

/** How far an interrupted search came. */
interface Halted extends TuneHalted {
  readonly of: number;
}

/** @throws Problem where the door may rest at a gap at which the contact reads shut: no setting helps. */
function refuseBlindDoor({ watchFile, name }: LoadedWatch): void {
  const gaps = gapsOf(watchFile);
  if (gaps?.kind !== 'blind') return;
  const { overMm, opensAtLeastMm } = gaps;
  throw problem('door-rests-unseen', name ?? 'the watch', {
    message:
      'no setting can meet the requirements: the door may rest at a gap at which the contact reads shut',
    found: `door.opensAtLeast ${String(opensAtLeastMm)} mm`,
    expected: `more than contact.releaseGap, ${String(overMm)} mm`,
    hint: 'move the magnet farther from the switch, or raise opensAtLeast if the door never rests at a smaller gap',
  });
}

async function viewOf(
  options: TuneOptions,
  watch: LoadedWatch,
  on: On & { readonly halt: AbortSignal },
): Promise<TuneView | Halted> {
  const { io } = on;
  const { watchFile, name, text } = watch;
  const supply = supplyOf(watch);
  refuseBlindDoor(watch);
  const requirements = requirementsOf(options, watchFile);
  const years = yearsFor(options.years, requirements);
  const settings = settingsToTry(options, { name, text, watch: watchFile.watch });
  if (options.threshold !== undefined) {
    const remarks = sameThresholds(settings, watchFile.watch);
    await writeDiagnostics(remarks, { io, paint: paintFor('stderr', on) });
  }
  const { leaveOpenAfterMs } = watchFile.judge;
  const usage = await usageOf(options, { ...on, leaveOpenAfterMs });
  const { contact, judge } = watchFile;
  const from = options.anyState === true ? 'anyState' : 'atRest';
  const question = tuneQuestionOf({ ...watchFile, supply }, { from, seed: options.seed, years });
  const habits = {
    profile: usage.profile,
    contact,
    outages: null,
    powerCuts: null,
    living: livingOf(watchFile),
  };
  const { jobs } = options;
  const { prefer } = options;
  const restRequired = restRequiredOf(watchFile, requirements, from);
  const searching = { question, habits, settings, requirements, prefer, restRequired };
  const search = { ...searching, jobs, halt: on.halt, io };
  const searched = await searchSettings(search);
  if (searched.kind === 'halted') return { ...searched, of: settings.length };
  const { answer, lived, unknown } = searched;
  const head = {
    file: name,
    profile: usage.name,
    seed: options.seed,
    years,
    confidence: tuneConfidence,
    from,
    outageMs: watchFile.environment.longestOutageMs,
    gaps: gapsWords(gapsOf(watchFile)),
    lasts: lastsText(supply.cells === undefined ? null : supply.capacityNah),
    searched: settings.length,
    tried: triedText(settings),
    logDays: usage.profile.fitted?.days ?? null,
    lived,
    resamples: resampleCount(usage.profile),
    assumes: assumptions(watchFile),
    unknown,
  } as const;
  return {
    answer,
    requirements,
    watch: watchFile.watch,
    head,
    reportWithinMs: judge.reportWithinMs,
    beyondRates: beyondRatesOf(question, tunedOf(watchFile.watch, settings[0])),
    anyState: anyStateOf(question, answer.recommended),
    yoursFromAnyState: answer.recommended === null ? null : anyStateOf(question, answer.present),
  };
}

/** Thresholds that work like a smaller one with every clear threshold that is tried. */
function sameThresholds(all: readonly Tuned[], watch: WatchFile['watch']): readonly Diagnostic[] {
  const mostClear = greatestOf(
    all.map(({ clearThreshold }) => clearThreshold ?? watch.clearThreshold),
  );
  const reachOf = (open: number): number => open + (open - 1) * (mostClear - 1);
  const same = all
    .map(({ escalationThreshold }) => escalationThreshold)
    .filter(({ open, outOf }) => outOf > reachOf(open));
  const texts = new Map(same.map(({ open, outOf }) => [`${open}/${outOf}`, open]));
  return [...texts].map(([text, open]): Diagnostic => {
    const like = mostClear === 1 ? `${open} in a row` : `${open} out of ${reachOf(open)}`;
    const clears =
      mostClear === 1 ? 'one shut check clears' : `${mostClear} shut checks in a row clear`;
    return {
      code: 'threshold-same-as-smaller',
      severity: 'warning',
      source: { file: '--threshold' },
      message: `${text} works like ${like}, because ${clears} the memory (clearThreshold)`,
      hint: open === 1 ? 'leave it out' : `add --clear ${String(mostClear + 1)}, or leave it out`,
    };
  });
}

/** `checkInterval 2m, 5m; wakeOn timer, opening` */
function triedText(all: readonly Tuned[]): string {
  const values = new Map<string, Set<string>>();
  for (const line of new Set(all.flatMap((tuned) => settingLines(tunedOverrides(tuned))))) {
    const [name = '', value = ''] = line.split(/: (.*)/su);
    values.set(name, (values.get(name) ?? new Set()).add(value));
  }
  const several = [...values].filter(([, some]) => some.size > 1);
  return several.map(([name, some]) => `${name} ${ascending([...some]).join(', ')}`).join('; ');
}

/** Durations by their length; a threshold as its option has it. */
function ascending(texts: readonly string[]): readonly string[] {
  const lengths = texts.map((text) => parseDuration(text, { file: 'tune' }));
  const msOf = (index: number): number => {
    const length = lengths[index];
    return length?.ok === true ? length.value : 0;
  };
  return texts
    .map((text, index) => ({ text, ms: msOf(index) }))
    .toSorted((a, b) => a.ms - b.ms)
    .map(({ text }) => text.replace(/^\{ open: (\d+), outOf: (\d+) \}$/u, '$1/$2'));
}

/** What is proved of settings from any state; null: there are none. */
function anyStateOf(question: TuneQuestion, trial: Trial | null): Proved | null {
  if (trial === null) return null;
  if (question.from === 'anyState') return trial.proved;
  return prover({ ...question, from: 'anyState' })(trial.settings);
}

async function tellHalted({ proved, lived, of }: Halted, io: Io): Promise<ExitStatus> {
  const done =
    proved < of
      ? `${String(proved)} of ${String(of)} settings were proved`
      : `all ${String(of)} settings were proved, and ${String(lived)} of them were simulated over years of use`;
  await io.stderr.write(
    `Interrupted: ${done}.\nA better one may be among the others: nothing is claimed, and nothing is written.\n`,
  );
  return 130;
}

async function checkOutputs(options: TuneOptions, io: Io): Promise<void> {
  const { output, chart, config, profile, profileFrom } = options;
  const outputs: Output[] = [];
  for (const [option, file] of [
    ['--output', output],
    ['--chart', chart],
  ] as const) {
    if (file === undefined) continue;
    refuseStdout(option, file);
    outputs.push({ option, file });
  }
  await refuseUnfitOutputs(outputs, { inputs: [config, profile, profileFrom], io });
  if (chart !== undefined) pictureFormat(chart);
}

async function writeOutputs(
  { output, chart, dark }: TuneOptions,
  view: TuneView,
  { watch, io }: { readonly watch: LoadedWatch; readonly io: Io },
): Promise<void> {
  const { recommended } = view.answer;
  if (output !== undefined && recommended !== null) {
    await writeOutput(output, [tunedText(watch, recommended.settings, view)], io);
  }
  if (chart === undefined) return;
  const { tuneChart } = await import('../../chart/index.js');
  const { answer, requirements, head } = view;
  const file = head.file ?? 'the defaults';
  const theme = dark === true ? 'dark' : 'light';
  await writePicture(chart, tuneChart({ answer, requirements, file, options: { theme } }), io);
}

/** The watch file with the settings in it. */
function tunedText({ name, text }: LoadedWatch, tuned: Tuned, { head }: TuneView): string {
  const overrides = tunedOverrides(tuned);
  const comment = [
    `${head.file ?? 'The defaults'}, with the settings that dozewatch tune recommends; profile ${head.profile}, seed ${head.seed}.`,
  ];
  return overlaidWatchText(text, name ?? 'the defaults', { overrides, comment });
}

async function report(options: TuneOptions, view: TuneView, on: On): Promise<void> {
  const { io } = on;
  const style = {
    width: io.stdout.columns,
    paint: paintFor('stdout', on),
    all: options.all === true,
  };
  await print(io, tuneReport(view, style));
  const { output, chart } = options;
  if (output !== undefined) {
    const words =
      view.answer.recommended === null
        ? 'No watch file is written, because no settings meet every requirement.'
        : `Watch file: ${plain(output)}`;
    await print(io, `\n${words}\n`);
  }
  if (chart !== undefined) await print(io, `\nPicture: ${plain(chart)}\n`);
  await print(io, nextText(options, view));
}

/** What to run next with the recommendation, or with what is relaxed; else what is proved of the watch as it is. */
function nextText(options: TuneOptions, { answer, head, watch }: TuneView): string {
  const { recommended } = answer;
  const present = watchWords(head.file, { ...options });
  const { output = 'tuned.yaml' } = options;
  const again = (leftOut: readonly string[], more: readonly string[]): readonly string[] => {
    const left = ['config', 'noConfig', 'chart', 'dark', 'all', 'jobs', 'output', ...leftOut];
    const given = Object.entries(options).filter(([key, value]) => key !== 'seed' || value !== '1');
    const words = optionWords(Object.fromEntries<unknown>(given), left);
    return ['tune', ...present, ...words, ...more, '-o', output];
  };
  if (recommended === null) {
    const relaxed = relaxedBy(answer);
    if (relaxed.length > 0) {
      // How many years are simulated depends on the rate of false alarms that is required.
      const years = ['--years', String(head.years)];
      const words = relaxed.flatMap(({ name, got }) => requirementText(name, got).split(' '));
      const names = relaxed.map(({ name }) => name);
      return nextLine(
        'a watch file for the relaxed requirements',
        again([...names, 'years'], [...words, ...years]),
      );
    }
  }
  if (recommended === null || changesFrom(watch, recommended.settings) === 0) {
    return nextLine('what is proved for your settings', ['bounds', ...present]);
  }
  if (options.output !== undefined) {
    return nextLine('what is proved for these settings', ['bounds', '-c', output]);
  }
  return nextLine('a watch file with these settings', again([], []));
}
