// Whole numbers of options.
import { InvalidArgumentError } from '@commander-js/extra-typings';

/** Parses a whole number within limits. */
export function wholeNumber(least: number, greatest: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (/^\d{1,9}$/u.test(text) && value >= least && value <= greatest) return value;
    throw new InvalidArgumentError(
      `Write a whole number from ${String(least)} to ${String(greatest)}.`,
    );
  };
}
