// The options of `tune` other than the ranges: the requirements, and the years to simulate.

import { counted, dayMs, durationText } from '../../base/index.js';
import { mostFalseAlarmsAYear, mostTunedYears } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import type { TuneRequirements } from '../../tune/index.js';
import { durationOf, perYearOf } from '../arguments/values.js';
import { problem } from '../problem.js';
import type { TuneOptions } from './options.js';

/** How sure the intervals of `tune` are. */
export const tuneConfidence = 0.95;

/** A watch that lives for less than a day has no use: a shorter life is meant in another unit. */
const lifeLimits = { least: dayMs, most: Number.POSITIVE_INFINITY, inDays: true } as const;

/** The requirements: those of the options, else those of the `judge:` section. */
export function requirementsOf(
  options: TuneOptions,
  { judge, timing }: WatchFile,
): TuneRequirements {
  const { sureFrom, worstDelay, quietUpTo, life, falseAlarms } = options;
  const requirements: TuneRequirements = {
    sureFromMs: durationOr('--sure-from', sureFrom, judge.leaveOpenAfterMs),
    worstDelayMs: durationOr('--worst-delay', worstDelay, judge.reportWithinMs),
    quietUpToMs: durationOr('--quiet-up-to', quietUpTo, judge.quietUpToMs),
    lifeMs: life === undefined ? null : durationOf('--life', life, lifeLimits),
    falseAlarmsPerYear: falseAlarms === undefined ? null : rateOf(falseAlarms),
  };
  refuseContradictions(requirements, timing.connectTime.least);
  return requirements;
}

function durationOr(option: string, text: string | undefined, usual: number | null): number | null {
  if (text === undefined) return usual;
  return durationOf(option, text, { least: 1, most: Number.POSITIVE_INFINITY });
}

/** @throws InputProblem for a rate of 0, which no number of simulated years can show. */
function rateOf(text: string): number {
  const perYear = perYearOf('--false-alarms', text, { least: 0, most: mostFalseAlarmsAYear });
  if (perYear > 0) return perYear;
  throw problem('out-of-range', '--false-alarms', {
    message: 'simulation cannot show that there are no false alarms at all',
    found: text,
    expected: 'a rate above 0, such as 1/year',
  });
}

function refuseContradictions(
  { sureFromMs, worstDelayMs, quietUpToMs }: TuneRequirements,
  connectMs: number,
): void {
  if (sureFromMs !== null && quietUpToMs !== null && quietUpToMs >= sureFromMs) {
    throw problem('requirements-contradict', '--quiet-up-to', {
      message: 'the same opening must raise no alert, and must be reported',
      found: `quiet up to ${durationText(quietUpToMs)}, sure from ${durationText(sureFromMs)}`,
      hint: 'make --quiet-up-to (or judge.quietUpTo) shorter than --sure-from',
    });
  }
  if (worstDelayMs !== null && worstDelayMs < connectMs) {
    throw problem('requirements-contradict', '--worst-delay', {
      message: 'this is shorter than the time to send one alert',
      found: `${durationText(worstDelayMs)}, with a device.connectTime of ${durationText(connectMs)}`,
      hint: 'raise --worst-delay, or lower device.connectTime in the watch file',
    });
  }
}

const usualYears = 20;

/**
 * Enough years that seeing no false alarm shows the required rate with 95 % confidence.
 * @throws InputProblem when fewer are given.
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
    message: `${counted(Math.min(years, mostTunedYears), 'year')} without a false alarm would not show this rate`,
    found: `a requirement of ${String(falseAlarmsPerYear)} per year`,
    expected: `at least ${String(needed)} years, and at most ${String(mostTunedYears)}`,
    hint:
      needed > mostTunedYears
        ? 'raise --false-alarms, and check the settings you choose with estimate over more years'
        : `give --years ${String(needed)} or more, or raise --false-alarms`,
  });
}
