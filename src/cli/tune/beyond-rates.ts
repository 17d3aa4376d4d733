// What settings do that no rate of the simulated years shows: what they miss at rest, how often an alert repeats while a door
// stays open, and what of their bounds is due to faults.
import { durationText, leastOf, listText, roundedDurationText, trueMs } from '../../base/index.js';
import {
  type Demanded,
  lengthBoundsOf,
  obstacleOf,
  repeatsClause,
  repeatsEveryMs,
  valueAt,
} from '../../bounds/index.js';
import { calmEnvironment } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import {
  type Proved,
  programsOf,
  prover,
  type RequirementName,
  type RestRequirements,
  shortfallsOf,
  type Trial,
  type TuneAnswer,
  type Tuned,
  type TuneQuestion,
  type TuneRequirements,
  tunedQuestion,
  unmetAtRest,
} from '../../tune/index.js';
import { boundText, frequencyText } from '../../wording/index.js';
import { requirementText } from './words.js';

/**
 * What is required at rest where bounds are from any state: what the options say or, where it is stricter, the watch file; but
 * not what no setting meets even at rest.
 */
export function restRequiredOf(
  { judge, environment, timing }: WatchFile,
  { sureFromMs, worstDelayMs }: TuneRequirements,
  from: TuneQuestion['from'],
): RestRequirements {
  if (from === 'atRest') return { sureFromMs: null, worstDelayMs: null };
  const isPossible = (key: 'leaveOpenAfter' | 'reportWithin', ms: number): boolean => {
    const required = { leaveOpenAfterMs: trueMs(ms), reportWithinMs: trueMs(ms) };
    return obstacleOf(key, { environment, timing, judge: required }, 'atRest') === null;
  };
  const least = (
    key: 'leaveOpenAfter' | 'reportWithin',
    all: readonly (number | null)[],
  ): number | null => {
    const possible = all.filter((ms) => ms !== null).filter((ms) => isPossible(key, ms));
    return possible.length === 0 ? null : leastOf(possible);
  };
  return {
    sureFromMs: least('leaveOpenAfter', [sureFromMs, judge.leaveOpenAfterMs]),
    worstDelayMs: least('reportWithin', [worstDelayMs, judge.reportWithinMs]),
  };
}

export interface BeyondRates {
  /** Where the bounds are proved. */
  readonly demanded: Omit<Demanded, 'judge'>;
  /** From one alert to the next while a door stays open; null: they do not repeat. */
  readonly repeatsEveryMs: (tuned: Tuned) => number | null;
  /** That alerts repeat more often than now, as a clause; empty: they do not. */
  readonly repeats: (tuned: Tuned) => readonly string[];
  /** What settings do not do at rest that is required there, in a sentence; null: they do it all. @param which names them. */
  readonly atRest: (trial: Trial, answer: TuneAnswer, which: string) => string | null;
  /** The same bounds where nothing goes wrong. */
  readonly withoutFaults: (tuned: Tuned) => Proved;
}

export function beyondRatesOf(question: TuneQuestion, present: Tuned): BeyondRates {
  const programOf = programsOf(question.watch);
  const repeatsMs = (tuned: Tuned): number | null =>
    repeatsEveryMs({ program: programOf(tuned), timing: question.timing });
  return {
    demanded: { environment: question.environment, timing: question.timing },
    repeatsEveryMs: repeatsMs,
    repeats: (tuned) => repeatsClause({ now: repeatsMs(present), then: repeatsMs(tuned) }),
    atRest: (trial, answer, which) => restText(question, trial, { answer, which }),
    withoutFaults: prover({ ...question, environment: calmEnvironment }),
  };
}

function restText(
  question: TuneQuestion,
  trial: Trial,
  { answer, which }: { readonly answer: TuneAnswer; readonly which: string },
): string | null {
  const unmet = unmetAtRest(trial, answer.restRequired);
  const { proved } = trial;
  const yours = answer.present === null ? undefined : answer.present.proved.atRest;
  const yoursText = (ms: number | undefined, required: number, prefix: string): string =>
    ms !== undefined && ms <= required ? ` (yours: ${prefix}${boundText(ms, '')})` : '';
  const clauses = [
    ...(unmet.sureFromMs === null
      ? []
      : [
          `${which} are sure only from ${boundText(proved.atRest?.sureFromMs ?? 0, 'no length')}${yoursText(yours?.sureFromMs, unmet.sureFromMs, 'from ')}: ${missedText(question, trial, unmet.sureFromMs)}`,
        ]),
    ...(unmet.worstDelayMs === null
      ? []
      : [
          `with ${which} the alert may take ${boundText(proved.atRest?.worstDelayMs ?? 0, 'any time')}${yoursText(yours?.worstDelayMs, unmet.worstDelayMs, '')}, and ${durationText(unmet.worstDelayMs)} is required`,
        ]),
  ];
  return clauses.length === 0 ? null : `NOT met even at rest: ${clauses.join('; ')}.`;
}

/** How many openings of a length go unreported at rest, at worst. */
function missedText(question: TuneQuestion, { settings, proved }: Trial, ms: number): string {
  const door = `a door left open for ${durationText(ms)}`;
  const sureMs = proved.atRest?.sureFromMs ?? 0;
  const bounds = lengthBoundsOf(tunedQuestion(question, programsOf(question.watch)(settings)), {
    alwaysReportedFromMs: { atRest: Number.isFinite(sureMs) ? sureMs : null, anyState: undefined },
    worstDelayMs: { atRest: undefined, anyState: undefined },
    neverAlarmedUpToMs: Number.isFinite(proved.quietUpToMs) ? proved.quietUpToMs : null,
  });
  const missed = bounds === null ? 0 : 1 - valueAt(bounds.detectionCurve, ms);
  if (missed <= 0) return `a fault can keep ${door} from being reported`;
  const most = bounds?.detectionCurveMost ?? null;
  if (missed >= 1) {
    const isSure = most === null || valueAt(most, ms) === 0;
    return `${door} goes unreported ${isSure ? 'every time' : "in up to 100 of 100 openings, depending on the device's clock and times"}`;
  }
  const upTo = most === null ? '' : 'up to ';
  return `${door} goes unreported ${frequencyText(missed, upTo)}, if nothing goes wrong`;
}

/**
 * Where faults alone keep settings from bounds that they would have: from which, and what they do without. Empty: they miss no
 * such bound, would miss one of them without faults as well, or that is not known.
 */
export function faultsText(
  {
    beyondRates,
    requirements,
  }: { readonly beyondRates: BeyondRates; readonly requirements: TuneRequirements },
  trial: Trial,
): readonly string[] {
  const { environment } = beyondRates.demanded;
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = environment;
  if (longestOutageMs + powerLosses + resets + longestChatterMs === 0) return [];
  const missed = shortfallsOf(trial, requirements).filter(({ name }) => name in calmClauses);
  if (missed.length === 0) return [];
  const { isKnown, inSpiteOfBounce: calm } = beyondRates.withoutFaults(trial.settings);
  const withoutFaults = { ...trial, proved: { ...trial.proved, inSpiteOfBounce: calm } };
  const still = shortfallsOf(withoutFaults, requirements).map(({ name }) => name);
  if (!isKnown || missed.some(({ name }) => still.includes(name))) return [];
  const from = listText(missed.map(({ name, asked }) => requirementText(name, asked)));
  const clauses = listText(missed.map(({ name }) => calmClauses[name]?.(calm) ?? ''));
  return [
    `What may go wrong (environment: in the watch file) keeps these settings from ${from}: without faults they ${clauses}.`,
  ];
}

/** What settings do where nothing goes wrong: only for requirements that are proved. */
const calmClauses: Readonly<
  Partial<Record<RequirementName, (calm: Proved['inSpiteOfBounce']) => string>>
> = {
  sureFrom: ({ sureFromMs }) => `are sure from ${roundedDurationText(sureFromMs, 'at most')}`,
  worstDelay: ({ worstDelayMs }) => `report within ${roundedDurationText(worstDelayMs, 'at most')}`,
  quietUpTo: ({ quietUpToMs }) => `are quiet up to ${quietText(quietUpToMs)}`,
};

function quietText(ms: number): string {
  return Number.isFinite(ms) ? roundedDurationText(ms, 'at least') : 'any length';
}
