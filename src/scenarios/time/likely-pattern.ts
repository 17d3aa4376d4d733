// The pattern of a time that is not recognised, for an error to suggest: the first of the common ones that fits.
import { compileTimePattern, type TimePattern } from './time-pattern.js';

/** Only those in which day and month cannot be mistaken for each other. */
const dates = [
  ...['%d-%b-%y', '%d-%b-%Y', '%d %b %y', '%d %b %Y', '%d.%b.%Y', '%d/%b/%Y', '%d%b%Y'],
  ...['%b %d %Y', '%b %d, %Y', '%b-%d-%Y', '%a %d %b %Y', '%a, %d %b %Y', '%a %b %d %Y'],
  ...['%Y-%m-%d', '%Y %b %d', '%Y-%b-%d', '%Y-%j', '%Y%j', '%Y.%m.%d', '%Y_%m_%d', '%Y%m%d'],
];
const gaps = [' ', ', ', '_', '-', 'T', '/', ':', ' at ', ' - ', ''];
const clocks = [
  ...['%H:%M:%S', '%H:%M', '%I:%M:%S %p', '%I:%M %p', '%H.%M.%S', '%H.%M', '%H-%M-%S', '%H-%M'],
  ...['%H:%M:%S.%f', '%H%M%S', '%H%M', '%Hh%M'],
];
const clockFirst = [' ', ', ', ' on '];

let compiled: readonly TimePattern[] | null = null;

function patterns(): readonly TimePattern[] {
  compiled ??= [
    ...dates.flatMap((date) =>
      gaps.flatMap((gap) => clocks.map((clock) => `${date}${gap}${clock}`)),
    ),
    ...clocks.flatMap((clock) =>
      clockFirst.flatMap((gap) => dates.map((date) => `${clock}${gap}${date}`)),
    ),
  ].flatMap((text) => {
    const pattern = compileTimePattern(text);
    return pattern.ok ? [pattern.value] : [];
  });
  return compiled;
}

/** Null: none fits. */
export function likelyPattern(text: string): string | null {
  if (!/\d/u.test(text) || text.length > 40 || text.length < 8) return null;
  return patterns().find((pattern) => !Number.isNaN(pattern.read(text)))?.text ?? null;
}
