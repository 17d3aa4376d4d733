// The options of `tune` other than the ranges: what the settings must do, and how it is found out.

import type { WatchFile } from '../../scenarios/index.js';
import type { Requirements } from '../../tune/index.js';
import { durationOf } from '../arguments/values.js';
import { problem } from '../problem.js';
import type { TuneOptions } from './options.js';

/** How sure the intervals of `tune` are. */
export const tuneConfidence = 0.95;

/** What is asked: by the options, and where they are silent by the watch file's `judge:` section. */
export function requirementsOf(options: TuneOptions, { judge, timing }: WatchFile): Requirements {
  const { sureFrom, worstDelay, quietUpTo, life, falseAlarms } = options;
  const requirements: Requirements = {
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

const yearDays = 365;
const daysOf: Readonly<Record<string, number>> = { year: yearDays, month: 30, week: 7, day: 1 };

/** `1/year`, `0.5 per month`. */
function rateOf(text: string): number {
  const [, count = '', unit = ''] =
    /^\s*(\d{1,6}(?:\.\d{1,6})?)\s*(?:\/|per|a)\s*(year|month|week|day)\s*$/u.exec(text) ?? [];
  const days = daysOf[unit];
  const perYear = days === undefined ? 0 : (Number(count) * yearDays) / days;
  if (perYear > 0) return perYear;
  throw problem('rate-unreadable', '--false-alarms', {
    message: 'this is not so many in so long',
    found: text,
    expected: 'a number over 0 and a year, month, week or day, such as 1/year',
    hint: 'never is not to be had: no number of years without one shows it',
  });
}

function refuseContradictions(
  { sureFromMs, worstDelayMs, quietUpToMs }: Requirements,
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
const mostYears = 2_000;

/**
 * So many years that none seen in them shows what is asked of false alarms.
 * @throws InputProblem when fewer are asked for.
 */
export function yearsFor(asked: number | undefined, { falseAlarmsPerYear }: Requirements): number {
  const doubt = -Math.log(1 - tuneConfidence);
  const needed = falseAlarmsPerYear === null ? 1 : Math.ceil(doubt / falseAlarmsPerYear);
  const years = asked ?? Math.max(usualYears, 2 * needed);
  if (years >= needed && years <= mostYears) return years;
  throw problem('years-too-few', '--years', {
    message: `even none at all in ${String(Math.min(years, mostYears))} years does not show so few false alarms`,
    found: `${String(falseAlarmsPerYear)} a year asked`,
    expected: `at least ${String(needed)} years, and at most ${String(mostYears)}`,
    hint: 'ask for less, or estimate the settings you choose over more years',
  });
}
