// The search of `tune`: every setting is proved, and those that may do are simulated over years of use.
import { setImmediate } from 'node:timers/promises';
import { counted } from '../../base/index.js';
import { evidenceOf, resampleCount, type YearHabits } from '../../scenarios/index.js';
import {
  boundsMissed,
  type Preference,
  type Proved,
  prover,
  type RestRequirements,
  type Trial,
  type TuneAnswer,
  type Tuned,
  type TuneQuestion,
  type TuneRequirements,
  tunedOf,
  type Weighing,
  weigh,
  whatYearsSay,
} from '../../tune/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { liveOnCores } from './pool.js';
import { tuneConfidence } from './readings.js';

export interface TuneSearch {
  readonly question: TuneQuestion;
  readonly habits: YearHabits;
  readonly settings: readonly Tuned[];
  readonly requirements: TuneRequirements;
  readonly prefer: Preference;
  /** What is required at rest where bounds are from any state. */
  readonly restRequired: RestRequirements;
  readonly jobs: number | undefined;
  /** Ends the search: half of one tells nothing, for any setting not yet tried might be better. */
  readonly halt: AbortSignal;
  readonly io: Io;
}

export type TuneSearched =
  | {
      readonly kind: 'done';
      readonly answer: TuneAnswer;
      readonly lived: number;
      readonly unknown: number;
    }
  | TuneHalted;

/** How far a search came. */
export interface TuneHalted {
  readonly kind: 'halted';
  readonly proved: number;
  readonly lived: number;
}

interface Proof {
  readonly settings: Tuned;
  readonly proved: Proved;
}

/** Settings proved between two moments in which an interrupt is heard. */
const provedAtOnce = 10;

export async function searchSettings(search: TuneSearch): Promise<TuneSearched> {
  const { question, requirements, halt } = search;
  const proofs = await proveAll(search);
  let lived = 0;
  const halted = (): TuneSearched => ({ kind: 'halted', proved: proofs.length, lived });
  // Read again each time: it changes while a search waits.
  const isHalted = (): boolean => halt.aborted;
  if (isHalted()) return halted();
  const missed = (proof: Proof): number => boundsMissed(proof.proved, requirements);
  const known = proofs.filter(({ proved }) => proved.isKnown);
  const present = await presentOf(search);
  if (isHalted()) return halted();
  const { prefer, restRequired } = search;
  const weighing = { prefer, restRequired, present };
  let trials: readonly Trial[] = [];
  let answer = weigh(question.watch, trials, requirements, weighing);
  // First those that may meet every requirement; without any, those that miss one bound, which may be the one to relax.
  for (const isNext of [
    (proof: Proof) => missed(proof) === 0,
    (proof: Proof) => missed(proof) === 1,
    (proof: Proof) => missed(proof) > 1,
  ]) {
    const more = await live(known.filter(isNext), search, (count) => {
      lived += count;
    });
    if (more === null || isHalted()) return halted();
    trials = [...trials, ...more];
    const doubted = await withDoubt(trials, search, weighing);
    if (doubted === null || isHalted()) return halted();
    ({ trials, answer } = doubted);
    if (answer.meeting > 0 || answer.relaxations.length > 0) break;
  }
  return { kind: 'done', answer, lived, unknown: proofs.length - known.length };
}

/** Weighing again may bring up settings whose doubt is not known yet: at most 5 times. */
const mostWeighings = 5;

/**
 * With a profile that was fitted to a log: also years of its resamples, for the settings that nothing beats and the present
 * ones. Null: halted.
 */
async function withDoubt(
  trials: readonly Trial[],
  search: TuneSearch,
  weighing: Weighing & { readonly present: Trial | null },
): Promise<{ readonly trials: readonly Trial[]; readonly answer: TuneAnswer } | null> {
  const { question, requirements } = search;
  const known = new Map<Trial, Trial>();
  const again = (some: readonly Trial[]) => some.map((trial) => known.get(trial) ?? trial);
  let [tried, now] = [trials, weighing.present];
  let answer = weigh(question.watch, tried, requirements, { ...weighing, present: now });
  if (resampleCount(search.habits.profile) === 0) return { trials: tried, answer };
  for (let round = 0; round < mostWeighings; round += 1) {
    const front = answer.front.map(({ trial }) => trial);
    const relaxed = [...answer.relaxations, ...(answer.nearest === null ? [] : [answer.nearest])];
    const shown = [...front, ...relaxed.map(({ trial }) => trial), ...(now === null ? [] : [now])];
    const open = [...new Set(shown.filter(({ years }) => years.overall === undefined))];
    if (open.length === 0) break;
    const lived = await live(open, search, () => undefined, resampleCount(search.habits.profile));
    if (lived === null) return null;
    open.forEach((trial, index) => known.set(trial, lived[index] ?? trial));
    tried = again(tried);
    now = now === null ? null : (known.get(now) ?? now);
    answer = weigh(question.watch, tried, requirements, { ...weighing, present: now });
  }
  return { trials: tried, answer };
}

/** The settings that the watch has now, tried as all others are; null: nothing is proved of them. */
async function presentOf(search: TuneSearch): Promise<Trial | null> {
  const settings = tunedOf(search.question.watch, search.settings[0]);
  const proved = prover(search.question)(settings);
  const lived = await live([{ settings, proved }], search, () => undefined);
  return proved.isKnown ? (lived?.[0] ?? null) : null;
}

async function proveAll({ question, settings, halt, io }: TuneSearch): Promise<readonly Proof[]> {
  const label = `${counted(settings.length, 'setting')} to prove, then years of those that may do`;
  const progress = openProgress(io, label, { atOnce: true });
  progress.at(0);
  const proveOne = prover(question);
  const proofs: Proof[] = [];
  for (const tuned of settings) {
    if (proofs.length % provedAtOnce === 0) await setImmediate();
    if (halt.aborted) break;
    progress.at(proofs.length / settings.length);
    proofs.push({ settings: tuned, proved: proveOne(tuned) });
  }
  progress.end();
  return proofs;
}

/** @returns a trial of each; null when halted. */
async function live(
  proofs: readonly Proof[],
  search: TuneSearch,
  onLived: (count: number) => void,
  resamples = 0,
): Promise<readonly Trial[] | null> {
  const { question, habits, io, jobs, halt } = search;
  const progress = openProgress(io, `simulating years of ${counted(proofs.length, 'setting')}`);
  let done = 0;
  const onDone = (count: number): void => {
    done += count;
    onLived(count);
    progress.at(done / proofs.length);
  };
  const settings = proofs.map((proof) => proof.settings);
  const lived = await liveOnCores({ question, habits, settings, resamples, jobs, halt, onDone });
  progress.end();
  if (lived === null) return null;
  const known = {
    confidence: tuneConfidence,
    evidence: evidenceOf(habits.profile, question.judge.leaveOpenAfterMs),
  };
  return lived.flatMap((life, index): Trial[] => {
    const proof = proofs[index];
    return proof === undefined
      ? []
      : [{ ...proof, years: whatYearsSay(life, question.supply, known) }];
  });
}
