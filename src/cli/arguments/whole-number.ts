// Whole numbers of options: light enough for a definition, which `--help` loads.
import { problem } from '../problem.js';

export interface Limits {
  readonly least: number;
  readonly most: number;
}

/**
 * What reads a whole number within limits, for the option of this name.
 * @throws InputProblem `not-a-whole-number` for anything else.
 */
export function wholeNumber(option: string, { least, most }: Limits): (text: string) => number {
  return (text) => {
    const value = /^-?\d{1,15}$/u.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    throw problem('not-a-whole-number', option, {
      message: `must be a whole number from ${String(least)} to ${String(most)}`,
      found: text,
    });
  };
}
