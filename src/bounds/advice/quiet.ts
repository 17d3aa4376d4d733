// What would meet quietUpTo alone: a higher threshold, or more time between the checks that lead to an alert. What wakes
// the device makes no difference, since a check may come just as the door opens.
import { itemAt } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { calmEnvironment, type Environment } from '../../model/index.js';
import type { Remedy } from '../answer.js';
import type { BoundsQuestion } from '../question.js';
import { timesOf } from '../times.js';
import { changesFrom, higherThresholds, nominal } from './plan.js';
import { firstTrue, roundOver } from './rounds.js';
import { openTrials, type Trials } from './trial.js';

/** Changes with which quietUpTo is met, and what they do to the reports. */
export interface QuieterWay extends Pick<Remedy, 'changes'> {
  /** From which length on every opening is then reported at rest; null: no such length, undefined: not known. */
  readonly sureFromMs: number | null | undefined;
}

/** Ways to meet quietUpTo, whatever becomes of the other requirements. */
export function quieterWays(question: BoundsQuestion): readonly QuieterWay[] {
  const trials = openTrials(question);
  const { watch } = question.program;
  return quieterSettings(question, trials).map((settings) => ({
    changes: changesFrom(watch, { ...watch, ...settings }),
    sureFromMs: trials.sureFromMs(settings),
  }));
}

/** A fault of `environment:`, and the line without it. */
export interface LoudFault {
  readonly what: string;
  readonly line: string;
}

/**
 * The faults without which the watch meets quietUpTo as it is set: one that is enough alone, or all together. A reset, for example,
 * brings a check forward. Empty: it is not met without any, or there are none.
 */
export function loudFaults(question: BoundsQuestion): readonly LoudFault[] {
  const { environment, judge } = question;
  if (judge.quietUpToMs === null) return [];
  const { resets, powerLosses, longestOutageMs, longestChatterMs } = environment;
  const faults = [
    { isAllowed: resets > 0, what: 'resets', line: 'resets: 0', less: { resets: 0 } },
    {
      isAllowed: powerLosses > 0,
      what: 'power losses',
      line: 'powerLosses: 0',
      less: { powerLosses: 0 },
    },
    {
      isAllowed: longestOutageMs > 0,
      what: 'network outages',
      line: 'longestOutage: 0s',
      less: { longestOutageMs: 0 },
    },
    {
      isAllowed: longestChatterMs > 0,
      what: 'a contact that chatters',
      line: 'longestChatter: 0s',
      less: { longestChatterMs: 0 },
    },
  ].filter(({ isAllowed }) => isAllowed);
  const isQuietIn = (other: Environment): boolean =>
    openTrials({ ...question, environment: other }).isQuiet({});
  const one = faults.find(({ less }) => isQuietIn({ ...environment, ...less }));
  if (one !== undefined) return [one];
  return faults.length > 1 && isQuietIn(calmEnvironment) ? faults : [];
}

/** Settings with which quietUpTo is met, each as little changed as possible; empty: none, or it is met or not required. */
export function quieterSettings(
  question: BoundsQuestion,
  trials: Trials,
): readonly Partial<WatchSettings>[] {
  if (question.judge.quietUpToMs === null || trials.isQuiet({})) return [];
  const threshold = higherThreshold(question, trials);
  const recheck = longerRecheck(question, trials, threshold !== null);
  return [threshold, recheck].filter((settings) => settings !== null);
}

function higherThreshold(question: BoundsQuestion, trials: Trials): Partial<WatchSettings> | null {
  if (question.ownLogic) return null;
  const all = higherThresholds(question.program.watch).map((escalationThreshold) => ({
    escalationThreshold,
  }));
  return all.find((settings) => mayDo(question, settings) && trials.isQuiet(settings)) ?? null;
}

/** The shortest round recheck interval that is long enough; where one open check raises an alert, two must. */
function longerRecheck(
  question: BoundsQuestion,
  trials: Trials,
  isEnoughWithout: boolean,
): Partial<WatchSettings> | null {
  const { watch } = question.program;
  const higher = higherThresholds(watch);
  const isOne = watch.escalationThreshold.open === 1 && !question.ownLogic;
  if (isOne && (isEnoughWithout || higher.length === 0)) return null;
  const base = isOne ? { escalationThreshold: itemAt(higher, 0) } : {};
  const longer = roundOver(watch.recheckIntervalMs)
    .map((ms) => ({ ...base, recheckIntervalMs: nominal(ms) }))
    .filter((settings) => mayDo(question, settings));
  return firstTrue(longer, (settings) => trials.isQuiet(settings));
}

/** Whether as many open checks as raise an alert can take long enough; where not, no search is needed. */
function mayDo(
  { program, judge, timing, ownLogic }: BoundsQuestion,
  settings: Partial<WatchSettings>,
): boolean {
  const watch = { ...program.watch, ...settings };
  const { bootMs, sleeps } = timesOf(watch, timing);
  const sleptMs = (watch.escalationThreshold.open - 1) * (sleeps[1].mostMs + bootMs.most);
  return ownLogic || sleptMs >= (judge.quietUpToMs ?? 0);
}
