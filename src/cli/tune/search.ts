// The search of `tune`: every setting is proved, and those that may do are simulated over years of use.
import { setImmediate } from 'node:timers/promises';
import type { YearHabits } from '../../scenarios/index.js';
import {
  boundsMissed,
  type Preference,
  type Proved,
  prover,
  type Trial,
  type TuneAnswer,
  type Tuned,
  type TuneQuestion,
  type TuneRequirements,
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
  const weighing = { prefer: search.prefer, present };
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
    answer = weigh(question.watch, trials, requirements, weighing);
    if (answer.recommended !== null || answer.relaxations.length > 0) break;
  }
  return { kind: 'done', answer, lived, unknown: proofs.length - known.length };
}

/** The settings that the watch has now, tried as all others are; null: nothing is proved of them. */
async function presentOf(search: TuneSearch): Promise<Trial | null> {
  const { watch } = search.question;
  const settings: Tuned = {
    checkIntervalMs: watch.checkIntervalMs,
    recheckIntervalMs: watch.recheckIntervalMs,
    escalationThreshold: watch.escalationThreshold,
    alertCooldownMs: watch.alertCooldownMs,
    wakeOn: watch.wakeOn,
  };
  const proved = prover(search.question)(settings);
  const lived = await live([{ settings, proved }], search, () => undefined);
  return proved.isKnown ? (lived?.[0] ?? null) : null;
}

async function proveAll({ question, settings, halt, io }: TuneSearch): Promise<readonly Proof[]> {
  const progress = openProgress(io, 'proving');
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
): Promise<readonly Trial[] | null> {
  const { question, habits, io, jobs, halt } = search;
  const progress = openProgress(io, 'simulating years');
  let done = 0;
  const onDone = (count: number): void => {
    done += count;
    onLived(count);
    progress.at(done / proofs.length);
  };
  const settings = proofs.map((proof) => proof.settings);
  const lived = await liveOnCores({ question, habits, settings, jobs, halt, onDone });
  progress.end();
  if (lived === null) return null;
  return lived.flatMap((life, index): Trial[] => {
    const proof = proofs[index];
    return proof === undefined
      ? []
      : [{ ...proof, years: whatYearsSay(life, question.supply, tuneConfidence) }];
  });
}
