// What the settings are proved to do. A search depends on the cooldown only where it looks beyond rest: at rest no
// cooldown runs as the opening begins, and the search ends with its first delivery. So it is made once for all cooldowns.

import {
  type BoundsQuestion,
  bounceMarginsOf,
  gapsOf,
  longestMs,
  questionOf,
  quietInSpiteOf,
  type SearchOptions,
  searched,
  searchesFor,
  sureFromMs,
  TooManyStatesError,
} from '../bounds/index.js';
import { mostTuneStates } from '../model/index.js';
import type { Program } from '../sim/index.js';
import type { Tuned } from './grid.js';
import { programsOf, type TuneQuestion } from './question.js';

/** Bounds of settings. */
export interface Proved extends ProvedBounds {
  /** False: the search outgrew its limit, and nothing is claimed. */
  readonly isKnown: boolean;
  /** What is left of them where the contact bounces: by these a requirement is met. */
  readonly inSpiteOfBounce: ProvedBounds;
  /** Of a search from any state: what holds at rest, also where the contact bounces. Absent: the bounds above are those. */
  readonly atRest?: ProvedBounds;
}

export interface ProvedBounds {
  /** Infinity: no opening is long enough to be sure. */
  readonly sureFromMs: number;
  readonly worstDelayMs: number;
  /** Infinity: no opening ever raises an alert. */
  readonly quietUpToMs: number;
}

const never = Number.POSITIVE_INFINITY;
const nothing: ProvedBounds = { sureFromMs: never, worstDelayMs: never, quietUpToMs: 0 };
const unknown: Proved = { isKnown: false, ...nothing, inSpiteOfBounce: nothing };

/** Proves one after the other. */
export function prover(question: TuneQuestion): (tuned: Tuned) => Proved {
  const programOf = programsOf(question.watch);
  const provedFrom = (from: TuneQuestion['from']): ((tuned: Tuned) => Proved) => {
    const known = new Map<string, Proved>();
    return (tuned) => {
      const whatMatters = from === 'atRest' ? { ...tuned, alertCooldownMs: 0 } : tuned;
      const key = JSON.stringify(whatMatters);
      const proved = known.get(key) ?? prove(tunedQuestion(question, programOf(tuned)), from);
      known.set(key, proved);
      return proved;
    };
  };
  const atRest = provedFrom('atRest');
  if (question.from === 'atRest') return atRest;
  const anyState = provedFrom('anyState');
  return (tuned) => ({ ...anyState(tuned), atRest: atRest(tuned).inSpiteOfBounce });
}

/** The question about bounds of settings. */
export function tunedQuestion(question: TuneQuestion, { watch, table }: Program): BoundsQuestion {
  return questionOf({ ...question, watch }, { table, ownLogic: false });
}

function prove(question: BoundsQuestion, from: TuneQuestion['from']): Proved {
  const isBlind = gapsOf(question)?.kind === 'blind';
  // Following when each heartbeat is due takes ten times as long, and gave the same bounds of every watch that was compared.
  const run = (options: SearchOptions) =>
    searched(question, { ...options, mostNodes: mostTuneStates, isSafeEnough: true }).result;
  try {
    const slowest = run(searchesFor[from]);
    const quickest = run(searchesFor.quickest);
    const bounds: ProvedBounds = {
      // A door that may rest where the contact reads shut may never be reported.
      sureFromMs: isBlind ? never : (sureFromMs(slowest) ?? never),
      worstDelayMs: isBlind ? never : (longestMs(slowest) ?? never),
      quietUpToMs: quickest.decision?.openingMs ?? never,
    };
    return { isKnown: true, ...bounds, inSpiteOfBounce: inSpiteOfBounce(question, from, bounds) };
  } catch (error) {
    if (error instanceof TooManyStatesError) return unknown;
    throw error;
  }
}

function inSpiteOfBounce(
  question: BoundsQuestion,
  from: TuneQuestion['from'],
  { sureFromMs: sureMs, worstDelayMs, quietUpToMs }: ProvedBounds,
): ProvedBounds {
  const margins = bounceMarginsOf(question);
  const lateMs = margins.lateMs[from];
  return {
    sureFromMs: sureMs + lateMs,
    worstDelayMs: worstDelayMs + lateMs,
    quietUpToMs: quietInSpiteOf(margins, quietUpToMs),
  };
}
