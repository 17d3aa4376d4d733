// Values of options as commands read them: one wording for each kind of refusal, whichever option it is.
import { parseDuration, parseShare, writeDuration } from '../../scenarios/index.js';
import { InputProblem, problem, valueOf } from '../problem.js';
import type { Limits } from './whole-number.js';

/**
 * A duration in whole milliseconds.
 * @throws InputProblem for what is none, and `out-of-range` where it is beyond its limits.
 */
export function durationOf(option: string, text: string, limits?: Limits): number {
  const ms = valueOf(parseDuration(text, { file: option }));
  if (limits === undefined || (ms >= limits.least && ms <= limits.most)) return ms;
  const { least, most } = limits;
  throw problem('out-of-range', option, {
    message: Number.isFinite(most)
      ? `must be a duration from ${writeDuration(least)} to ${writeDuration(most)}`
      : `must be a duration of at least ${writeDuration(least)}`,
    found: text,
  });
}

/** A share from 0 to 1. @throws InputProblem for what is none, and `out-of-range` where it is beyond its limits. */
export function shareOf(option: string, text: string, limits: Limits): number {
  return valueOf(parseShare(text, { file: option }, limits));
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
      message: `there is no ${what} of this name`,
      found: name,
      expected: known.join(', '),
    })),
  );
}
