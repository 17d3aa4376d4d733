// Settings worth choosing between, around those that are set: a small grid, proved and simulated like that of the
// tune command.
import type { DeviceMs } from '../base/index.js';
import { deviceMs } from '../base/index.js';
import {
  livingOf,
  type UsageProfile,
  type WatchFile,
  yearsLivedWith,
  yearWorlds,
} from '../scenarios/index.js';
import {
  type Axes,
  gridOf,
  liveThrough,
  programsOf,
  prover,
  type Trial,
  type TuneAnswer,
  type Tuned,
  type TuneQuestion,
  type TuneRequirements,
  tuneQuestionOf,
  weigh,
  whatYearsSay,
  type YearsBy,
} from '../tune/index.js';
import { tunedOverrides } from '../wording/index.js';

const years = 5;
const seed = '1';
const confidence = 0.95;
/** Settings between two signs of life. */
const settingsAtOnce = 12;

export interface FrontSearch {
  /** How much of the search is done, 0 to 1. */
  readonly share: number;
  /** Null until it is done. */
  readonly answer: TuneAnswer | null;
  readonly requirements: TuneRequirements;
}

/** Null: without a supply no setting lasts longer than another. */
export function searchFront(
  watchFile: WatchFile,
  profile: UsageProfile | null,
): Generator<FrontSearch> | null {
  const { supply } = watchFile;
  if (supply === null || profile === null) return null;
  const { contact } = watchFile;
  const question = tuneQuestionOf({ ...watchFile, supply }, { from: 'atRest', seed, years });
  const worlds = yearWorlds({ profile, contact, outages: null, powerCuts: null });
  return searching(question, {
    worldOf: (year) => worlds(seed, year),
    ...yearsLivedWith(livingOf(watchFile)),
  });
}

function* searching(
  question: TuneQuestion,
  by: Omit<YearsBy, 'programOf'>,
): Generator<FrontSearch> {
  const { watch, judge, supply } = question;
  const requirements: TuneRequirements = {
    sureFromMs: judge.leaveOpenAfterMs,
    worstDelayMs: judge.reportWithinMs,
    quietUpToMs: judge.quietUpToMs,
    lifeMs: null,
    falseAlarmsPerYear: null,
  };
  const settings = gridOf(axesAround(watch));
  const prove = prover(question);
  const programOf = programsOf(watch);
  const trials: Trial[] = [];
  for (let from = 0; from < settings.length; from += settingsAtOnce) {
    const some = settings.slice(from, from + settingsAtOnce);
    const lives = liveThrough(question, some, { programOf, ...by });
    for (const [index, lived] of lives.entries()) {
      const tuned = some[index];
      if (tuned === undefined) continue;
      const said = whatYearsSay(lived, supply, { confidence });
      trials.push({ settings: tuned, proved: prove(tuned), years: said });
    }
    yield { share: trials.length / settings.length, answer: null, requirements };
  }
  yield { share: 1, answer: weigh(watch, trials, requirements), requirements };
}

/** Round values, and what is set. */
function axesAround(watch: Tuned): Axes {
  const { open, outOf } = watch.escalationThreshold;
  const isUsual = open === outOf && open <= 3;
  return {
    checkIntervalMs: around(watch.checkIntervalMs, [30, 60, 120, 180, 300, 600]),
    recheckIntervalMs: around(watch.recheckIntervalMs, [20, 60, 180]),
    alertCooldownMs: [watch.alertCooldownMs],
    escalationThreshold: [
      ...[1, 2, 3].map((count) => ({ open: count, outOf: count })),
      ...(isUsual ? [] : [watch.escalationThreshold]),
    ],
    wakeOn: ['timer', 'opening', 'any-change'],
  };
}

function around(setMs: DeviceMs, seconds: readonly number[]): readonly DeviceMs[] {
  const all = new Set([setMs, ...seconds.map((count) => deviceMs(count * 1_000))]);
  return [...all].toSorted((a, b) => a - b);
}

/** What the fields say for settings; the cooldown is not searched here. */
export function fieldsOf(tuned: Tuned): Readonly<Record<string, string>> {
  const said = tunedOverrides(tuned).map(({ path, text }) => [path.join('.'), text] as const);
  return Object.fromEntries(said.filter(([key]) => key !== 'watch.alertCooldown'));
}
