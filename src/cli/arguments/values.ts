// Values of options as commands read them: one wording for each kind of refusal, whichever option it is.
import { didYouMean, parseDuration, parseShare, writeDuration } from '../../scenarios/index.js';
import { InputProblem, problem, valueOf } from '../problem.js';
import type { Limits } from './whole-number.js';

/**
 * A duration in whole milliseconds.
 * @param limits.inDays it is usually a number of days: the hint of a refusal says how to write them.
 * @throws InputProblem for anything else, and `out-of-range` beyond its limits.
 */
export function durationOf(
  option: string,
  text: string,
  limits?: Limits & { readonly inDays?: true },
): number {
  const parsed = parseDuration(text, { file: option });
  const number = limits?.inDays === true ? /^\s*0*([1-9]\d{0,4})\D*$/u.exec(text)?.[1] : undefined;
  const hint = number === undefined ? {} : { hint: `write ${number}d for days` };
  if (!parsed.ok) {
    throw new InputProblem(
      parsed.errors.map((error) =>
        error.code === 'duration-without-unit' ? { ...error, ...hint } : error,
      ),
    );
  }
  const ms = parsed.value;
  if (limits === undefined || (ms >= limits.least && ms <= limits.most)) return ms;
  const { least, most } = limits;
  throw problem('out-of-range', option, {
    message: Number.isFinite(most)
      ? `must be a duration from ${writeDuration(least)} to ${writeDuration(most)}`
      : `must be a duration of at least ${writeDuration(least)}`,
    found: text,
    ...(ms < least ? hint : {}),
  });
}

/** A share from 0 to 1. @throws InputProblem for anything else, and `out-of-range` beyond its limits. */
export function shareOf(option: string, text: string, limits: Limits): number {
  return valueOf(parseShare(text, { file: option }, limits));
}

const yearDays = 365;
const daysOf: Readonly<Record<string, number>> = { year: yearDays, month: 30, week: 7, day: 1 };

/**
 * A rate such as `12/year` or `0.5 per month`.
 * @returns how many per year of 365 days. @throws InputProblem `rate-unreadable`, or `out-of-range` beyond its limits.
 */
export function perYearOf(option: string, text: string, { least, most }: Limits): number {
  const [, count = '', unit = ''] =
    /^\s*(\d{1,6}(?:\.\d{1,6})?)\s*(?:\/|per|a)\s*(year|month|week|day)\s*$/u.exec(text) ?? [];
  const days = daysOf[unit];
  if (days === undefined) {
    throw problem('rate-unreadable', option, {
      message: 'this is not a rate',
      found: text,
      expected: 'a number per year, month, week or day, such as 12/year or 1/month',
    });
  }
  const perYear = (Number(count) * yearDays) / days;
  if (perYear >= least && perYear <= most) return perYear;
  throw problem('out-of-range', option, {
    message: `must be a rate from ${String(least)} to ${String(most)} per year`,
    found: text,
  });
}

/** Names from a list with commas. @throws InputProblem `unknown-name` for each that is not known. */
export function namesOf(
  option: string,
  text: string,
  { what, known }: { readonly what: string; readonly known: readonly string[] },
): readonly string[] {
  const names = text.split(',').map((name) => name.trim());
  const unknown = names.filter((name) => !known.includes(name));
  if (unknown.length === 0) return names;
  throw new InputProblem(
    unknown.map((name) => ({
      code: 'unknown-name',
      severity: 'error',
      source: { file: option },
      message: `there is no ${what} with this name`,
      found: name,
      expected: known.join(', '),
      hint: didYouMean(name, known),
    })),
  );
}
