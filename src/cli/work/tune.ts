// `dozewatch tune` at work: every setting of the ranges is proved, those that may do are lived through years of use,
// and what nothing beats is shown.

import { overlaidWatchText, writeDuration, type YearHabits } from '../../scenarios/index.js';
import {
  boundsMissed,
  type Proved,
  prover,
  type Trial,
  type Tuned,
  type TuneQuestion,
  weigh,
  whatYearsSay,
} from '../../tune/index.js';
import type { Style } from '../commands/command.js';
import { writeFileAtomically } from '../host/atomic-file.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { plain } from '../present/plain.js';
import { tuneJson } from '../present/tune-json.js';
import { tuneReport } from '../present/tune-report.js';
import type { TuneView } from '../present/tune-view.js';
import { type LoadedWatch, loadWatch } from './load-watch.js';
import { refuseOverwriting, refuseStdout } from './outputs.js';
import { paintFor } from './paint-for.js';
import { supplyOf } from './supply-of.js';
import { settingsToTry } from './tune-grid.js';
import { requirementsOf, type TuneOptions, tuneConfidence, yearsFor } from './tune-options.js';
import { liveOnCores } from './tune-pool.js';
import { checkUsage, usageOf } from './usage-of.js';
import { overridesOf } from './watch-overrides.js';
import { pictureFormat, writePicture } from './write-picture.js';

interface On {
  readonly io: Io;
  readonly style: Style;
}

/** @throws InputProblem for input that cannot be read or believed, and for requirements that contradict. */
export async function tune(options: TuneOptions, on: On): Promise<ExitStatus> {
  const { io } = on;
  checkUsage(options);
  checkOutputs(options, io);
  const watch = await loadWatch(options.config, io);
  const view = await searched(options, watch, on);
  await writeDiagnostics(watch.warnings, { io, paint: paintFor('stderr', on), most: 20 });
  await writeOutputs(options, view, { watch, io });
  if (options.json === true) await io.stdout.write(tuneJson(view));
  else await report(options, view, on);
  return view.answer.recommended === null ? 1 : 0;
}

async function searched(options: TuneOptions, watch: LoadedWatch, on: On): Promise<TuneView> {
  const { io } = on;
  const { watchFile, name, text } = watch;
  const supply = supplyOf(watch);
  const requirements = requirementsOf(options, watchFile);
  const years = yearsFor(options.years, requirements);
  const settings = settingsToTry(options, { name, text, watch: watchFile.watch });
  const { leaveOpenAfterMs } = watchFile.judge;
  const usage = await usageOf(options, { ...on, leaveOpenAfterMs });
  const { timing, judge, contact, sealGapUm, environment } = watchFile;
  const from = options.anyState === true ? 'anyState' : 'atRest';
  const of = { timing, judge, contact, sealGapUm, environment, supply, from } as const;
  const question = { ...of, watch: watchFile.watch, seed: options.seed, years } as const;
  const habits = { profile: usage.profile, contact, outages: null, powerCuts: null };
  const proofs = proveAll(question, settings, io);
  const search = { question, habits, proofs, io, jobs: options.jobs };
  const missed = (proof: Proof): number => boundsMissed(proof.proved, requirements);
  const known = proofs.filter(({ proved }) => proved.isKnown);
  let trials: readonly Trial[] = [];
  let answer = weigh(watchFile.watch, trials, requirements);
  // First those that may do all that is asked; without any, those that miss one bound, which may be the one to relax.
  for (const isNext of [
    (proof: Proof) => missed(proof) === 0,
    (proof: Proof) => missed(proof) === 1,
    (proof: Proof) => missed(proof) > 1,
  ]) {
    trials = [...trials, ...(await live(known.filter(isNext), search))];
    answer = weigh(watchFile.watch, trials, requirements);
    if (answer.recommended !== null || answer.relaxations.length > 0) break;
  }
  const head = {
    file: name,
    profile: usage.name,
    seed: options.seed,
    years,
    confidence: tuneConfidence,
    from,
    searched: settings.length,
    lived: trials.length,
    unknown: proofs.filter(({ proved }) => !proved.isKnown).length,
  } as const;
  return { answer, requirements, watch: watchFile.watch, head };
}

interface Proof {
  readonly settings: Tuned;
  readonly proved: Proved;
}

function proveAll(question: TuneQuestion, settings: readonly Tuned[], io: Io): readonly Proof[] {
  const progress = openProgress(io, 'proving');
  const proveOne = prover(question);
  const proofs = settings.map((tuned, index) => {
    progress.at(index / settings.length);
    return { settings: tuned, proved: proveOne(tuned) };
  });
  progress.end();
  return proofs;
}

async function live(
  proofs: readonly Proof[],
  on: {
    readonly question: TuneQuestion;
    readonly habits: YearHabits;
    readonly io: Io;
    readonly jobs: number | undefined;
  },
): Promise<readonly Trial[]> {
  const { question, habits, io, jobs } = on;
  const progress = openProgress(io, 'living through years');
  let done = 0;
  const onDone = (count: number): void => {
    done += count;
    progress.at(done / proofs.length);
  };
  const settings = proofs.map((proof) => proof.settings);
  const lived = await liveOnCores({ question, habits, settings, jobs, onDone });
  progress.end();
  return lived.flatMap((life, index): Trial[] => {
    const proof = proofs[index];
    return proof === undefined
      ? []
      : [{ ...proof, years: whatYearsSay(life, question.supply, tuneConfidence) }];
  });
}

function checkOutputs({ out, chart, config, profile, profileFrom }: TuneOptions, io: Io): void {
  const inputs = [config, profile, profileFrom].filter((file) => file !== undefined);
  for (const [option, file] of [
    ['--out', out],
    ['--chart', chart],
  ] as const) {
    if (file === undefined) continue;
    refuseStdout(option, file);
    refuseOverwriting(option, file, { inputs, io });
  }
  if (chart !== undefined) pictureFormat(chart);
}

async function writeOutputs(
  { out, chart, dark }: TuneOptions,
  view: TuneView,
  { watch, io }: { readonly watch: LoadedWatch; readonly io: Io },
): Promise<void> {
  const { recommended } = view.answer;
  if (out !== undefined && recommended !== null) {
    await writeFileAtomically(out, [tunedText(watch, recommended.settings, view)], io);
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
  const { open, outOf } = tuned.escalationThreshold;
  const overrides = overridesOf({
    interval: writeDuration(tuned.checkIntervalMs),
    recheck: writeDuration(tuned.recheckIntervalMs),
    threshold: open === outOf ? String(open) : `${String(open)}/${String(outOf)}`,
    cooldown: writeDuration(tuned.alertCooldownMs),
    wakeOn: tuned.wakeOn,
  });
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
  await io.stdout.write(tuneReport(view, style));
  const { out, chart } = options;
  if (out !== undefined) {
    const words =
      view.answer.recommended === null ? 'No watch file is written' : `Watch file: ${plain(out)}`;
    await io.stdout.write(`\n${words}\n`);
  }
  if (chart !== undefined) await io.stdout.write(`\nPicture: ${plain(chart)}\n`);
}
