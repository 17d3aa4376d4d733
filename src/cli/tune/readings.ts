// The options of `tune` other than the ranges: what the settings must do, and how it is found out.

import { mostTunedYears } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import type { TuneRequirements } from '../../tune/index.js';
import { durationOf, perYearOf } from '../arguments/values.js';
import { problem } from '../problem.js';
import type { TuneOptions } from './options.js';

/** How sure the intervals of `tune` are. */
export const tuneConfidence = 0.95;

const mostFalseAlarmsAYear = 1_000_000;

/** What is asked: by the options, and where they are silent by the watch file's `judge:` section. */
export function requirementsOf(
  options: TuneOptions,
  { judge, timing }: WatchFile,
): TuneRequirements {
  const { sureFrom, worstDelay, quietUpTo, life, falseAlarms } = options;
  const requirements: TuneRequirements = {
    sureFromMs: durationOr('--sure-from', sureFrom, judge.leaveOpenAfterMs),
    worstDelayMs: durationOr('--worst-delay', worstDelay, judge.reportWithinMs),
    quietUpToMs: durationOr('--quiet-up-to', quietUpTo, judge.quietUpToMs),
    lifeMs: durationOr('--life', life, null),
    falseAlarmsPerYear: falseAlarms === undefined ? null : rateOf(falseAlarms),
  };
  refuseContradictions(requirements, timing.connectTime.least);
  return requirements;
}

function durationOr(option: string, text: string | undefined, usual: number | null): number | null {
  if (text === undefined) return usual;
  return durationOf(option, text, { least: 1, most: Number.POSITIVE_INFINITY });
}

/** @throws InputProblem for none at all: no number of years without one shows that there are none. */
function rateOf(text: string): number {
  const perYear = perYearOf('--false-alarms', text, { least: 0, most: mostFalseAlarmsAYear });
  if (perYear > 0) return perYear;
  throw problem('out-of-range', '--false-alarms', {
    message: 'no number of simulated years shows that there are none at all',
    found: text,
    expected: 'a rate over 0, such as 1/year',
  });
}

function refuseContradictions(
  { sureFromMs, worstDelayMs, quietUpToMs }: TuneRequirements,
  connectMs: number,
): void {
  if (sureFromMs !== null && quietUpToMs !== null && quietUpToMs >= sureFromMs) {
    throw problem('requirements-contradict', '--quiet-up-to', {
      message: 'an opening so long must raise no alert, and must be reported for sure',
      found: `quiet up to ${String(quietUpToMs)} ms, sure from ${String(sureFromMs)} ms`,
      hint: 'what is sure to be reported has to last longer than what must stay quiet',
    });
  }
  if (worstDelayMs !== null && worstDelayMs < connectMs) {
    throw problem('requirements-contradict', '--worst-delay', {
      message: 'an alert takes longer to send than it may be late',
      found: `${String(worstDelayMs)} ms, with device.connectTime of ${String(connectMs)} ms`,
    });
  }
}

const usualYears = 20;

/**
 * So many years that none seen in them shows what is asked of false alarms.
 * @throws InputProblem when fewer are asked for.
 */
export function yearsFor(
  asked: number | undefined,
  { falseAlarmsPerYear }: TuneRequirements,
): number {
  const doubt = -Math.log(1 - tuneConfidence);
  const needed = falseAlarmsPerYear === null ? 1 : Math.ceil(doubt / falseAlarmsPerYear);
  const years = asked ?? Math.max(usualYears, 2 * needed);
  if (years >= needed && years <= mostTunedYears) return years;
  throw problem('years-too-few', '--years', {
    message: `even none at all in ${String(Math.min(years, mostTunedYears))} years does not show so few false alarms`,
    found: `${String(falseAlarmsPerYear)} a year asked`,
    expected: `at least ${String(needed)} years, and at most ${String(mostTunedYears)}`,
    hint: 'ask for less, or estimate the settings you choose over more years',
  });
}
