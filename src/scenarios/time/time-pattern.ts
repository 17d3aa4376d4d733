// Times by a pattern of strptime (POSIX.1-2024, with %f for fractions): what each directive reads, and the time that a
// whole text gives. Names of months and days are English; numbers may lack their leading zeros.

import { dayMs } from '../../base/index.js';
import { mostPatternCharacters } from '../../model/index.js';
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { dayNumber } from './day-number.js';

/** Reads texts of one pattern. */
export interface TimePattern {
  /** As strptime writes it. */
  readonly text: string;
  /** Milliseconds of the local time as if it were UTC, or of the instant where `offsetMs` is a number; NaN: it does not fit. */
  read(text: string): number;
  /** The offset of the text read last; NaN: it had none. */
  readonly offsetMs: number;
}

/** What the directives of one text gave so far. */
interface Parts {
  year: number;
  month: number;
  day: number;
  dayOfYear: number;
  hour: number;
  /** 0: before noon, 12: after; −1: not given. */
  half: number;
  minute: number;
  second: number;
  millisecond: number;
  offsetMs: number;
  epochSeconds: number;
}

/** Where a step ends; −1: the text does not fit. */
type Step = (text: string, at: number, parts: Parts) => number;

type NumberPart = Exclude<keyof Parts, 'half' | 'offsetMs' | 'epochSeconds' | 'millisecond'>;

const zero = 48;

function isDigit(code: number): boolean {
  return code >= zero && code <= zero + 9;
}

/** A whole number of `least` to `most` digits. */
function whole(part: NumberPart | null, [least, most]: readonly [number, number], from = 0): Step {
  return (text, at, parts) => {
    let value = 0;
    let end = at;
    while (end < at + most && isDigit(text.charCodeAt(end))) {
      value = value * 10 + text.charCodeAt(end) - zero;
      end += 1;
    }
    if (end < at + least || value < from) return -1;
    if (part !== null) parts[part] = value;
    return end;
  };
}

/** Spaces, as many as there are; perhaps none. */
const spaces: Step = (text, at) => {
  let end = at;
  while (end < text.length && text.slice(end, end + 1).trim() === '') end += 1;
  return end;
};

/** POSIX: 69 to 99 are of the 20th century, 00 to 68 of the 21st. */
const shortYear: Step = (text, at, parts) => {
  const end = whole('year', [2, 2])(text, at, parts);
  if (end >= 0) parts.year += parts.year >= 69 ? 1_900 : 2_000;
  return end;
};

const fraction: Step = (text, at, parts) => {
  let end = at;
  parts.millisecond = 0;
  for (let scale = 100; end < at + 9 && isDigit(text.charCodeAt(end)); end += 1, scale /= 10) {
    if (scale >= 1) parts.millisecond += (text.charCodeAt(end) - zero) * scale;
  }
  return end === at ? -1 : end;
};

/** @param eatsPoint whether a point behind a short name is part of it: `Sep.` */
function named(
  names: readonly string[],
  take: (parts: Parts, index: number) => void,
  eatsPoint = true,
): Step {
  const known = new Map(
    names.flatMap((name, index) => [[name, index] as const, [name.slice(0, 3), index] as const]),
  );
  known.set('sept', 8);
  return (text, at, parts) => {
    const [word = ''] = /^[a-z]+/iu.exec(text.slice(at, at + 12)) ?? [];
    const index = known.get(word.toLowerCase());
    if (index === undefined || index >= names.length) return -1;
    take(parts, index);
    const end = at + word.length;
    return eatsPoint && text[end] === '.' && word.length <= 4 ? end + 1 : end;
  };
}

const monthNames: readonly string[] = [
  ...['january', 'february', 'march', 'april', 'may', 'june', 'july', 'august'],
  ...['september', 'october', 'november', 'december'],
];
const dayNames: readonly string[] = [
  ...['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'],
];

const takeMonth = (parts: Parts, index: number): void => {
  parts.month = index + 1;
};
const monthName = named(monthNames, takeMonth);
const dayName = named(dayNames, () => undefined);

/** Where the pattern has the point, it is not part of the name: `8.Sep.2026`. */
const beforePoint: ReadonlyMap<Step | undefined, Step> = new Map([
  [monthName, named(monthNames, takeMonth, false)],
  [dayName, named(dayNames, () => undefined, false)],
]);

const half: Step = (text, at, parts) => {
  const [word] = /^(?:[ap]\.?\s?m\b\.?)/iu.exec(text.slice(at, at + 5)) ?? [];
  if (word === undefined) return -1;
  parts.half = /^a/iu.test(word) ? 0 : 12;
  return at + word.length;
};

const offset: Step = (text, at, parts) => {
  const [match, sign, hours, minutes = '00'] =
    /^(?:Z|UTC|GMT|([+-])(\d{2})(?::?(\d{2}))?)(?![\d:])/iu.exec(text.slice(at, at + 8)) ?? [];
  if (match === undefined || Number(hours ?? 0) > 23 || Number(minutes) > 59) return -1;
  const size = (Number(hours ?? 0) * 60 + Number(hours === undefined ? 0 : minutes)) * 60_000;
  parts.offsetMs = sign === '-' && size > 0 ? -size : size;
  return at + match.length;
};

/** The abbreviation of a zone, which is skipped: several zones share one. Those of UTC are an offset. */
const zoneWord: Step = (text, at, parts) => {
  const [word] = /^[a-z]{1,6}/iu.exec(text.slice(at, at + 8)) ?? [];
  if (word === undefined) return -1;
  if (/^(?:Z|UTC|GMT)$/iu.test(word)) parts.offsetMs = 0;
  return at + word.length;
};

const epoch: Step = (text, at, parts) => {
  const [digits] = /^-?\d{1,12}/u.exec(text.slice(at, at + 14)) ?? [];
  if (digits === undefined) return -1;
  parts.epochSeconds = Number(digits);
  return at + digits.length;
};

const directives: ReadonlyMap<string, Step> = new Map<string, Step>([
  ['Y', whole('year', [4, 4])],
  ['y', shortYear],
  ['m', whole('month', [1, 2], 1)],
  ['b', monthName],
  ['B', monthName],
  ['h', monthName],
  ['d', whole('day', [1, 2], 1)],
  ['e', whole('day', [1, 2], 1)],
  ['j', whole('dayOfYear', [1, 3], 1)],
  ['H', whole('hour', [1, 2])],
  ['k', whole('hour', [1, 2])],
  ['I', whole('hour', [1, 2], 1)],
  ['l', whole('hour', [1, 2], 1)],
  ['p', half],
  ['P', half],
  ['M', whole('minute', [1, 2])],
  ['S', whole('second', [1, 2])],
  ['f', fraction],
  ['z', offset],
  ['Z', zoneWord],
  ['s', epoch],
  ['a', dayName],
  ['A', dayName],
  ['u', whole(null, [1, 1])],
  ['w', whole(null, [1, 1])],
  ['n', spaces],
  ['t', spaces],
]);

/** Directives that stand for several. */
const short: ReadonlyMap<string, string> = new Map([
  ['D', '%m/%d/%y'],
  ['F', '%Y-%m-%d'],
  ['R', '%H:%M'],
  ['T', '%H:%M:%S'],
  ['r', '%I:%M:%S %p'],
]);

/** Spaces before these do not count, as in strptime: `%e` of the 8th is written with one. */
const spacedNumbers = 'ekl';

/** Understands a pattern. Errors: `time-format-unknown`, `time-format-incomplete`. */
export function compileTimePattern(pattern: string): Decoded<TimePattern> {
  const used = new Set<string>();
  const steps = stepsOf(pattern, used);
  if (!steps.ok) return steps;
  const missing = missingFrom(used);
  if (missing !== null) return { ok: false, problem: { ...missing, found: pattern } };
  const parts = noParts();
  const hours12 = used.has('I') || used.has('l');
  const list = steps.value;
  return good({
    text: pattern,
    read(text) {
      reset(parts);
      let at = 0;
      for (const step of list) {
        at = step(text, at, parts);
        if (at < 0) return Number.NaN;
      }
      return at === text.length ? millisecondsOf(parts, hours12) : Number.NaN;
    },
    get offsetMs() {
      return Number.isNaN(parts.epochSeconds) ? parts.offsetMs : 0;
    },
  });
}

function stepsOf(pattern: string, used: Set<string>): Decoded<readonly Step[]> {
  const steps: Step[] = [];
  const written = pattern
    .slice(0, mostPatternCharacters)
    .replaceAll(/%([DFRTr])/gu, (whole_, letter: string) => short.get(letter) ?? whole_);
  for (let at = 0; at < written.length; at += 1) {
    const character = written.charAt(at);
    if (character.trim() === '') steps.push(spaces);
    else if (character !== '%') steps.push(literal(character));
    else {
      at += 1;
      const letter = written.charAt(at);
      const usual = letter === '%' ? literal('%') : directives.get(letter);
      const isBefore = written.charAt(at + 1) === '.';
      const step = isBefore ? (beforePoint.get(usual) ?? usual) : usual;
      if (step === undefined) return unknownDirective(pattern, letter);
      used.add(letter);
      if (spacedNumbers.includes(letter)) steps.push(spaces);
      steps.push(step);
    }
  }
  return good(steps);
}

function literal(character: string): Step {
  return (text, at) => (text.startsWith(character, at) ? at + character.length : -1);
}

function unknownDirective(pattern: string, letter: string): Decoded<never> {
  const known = [...directives.keys(), ...short.keys(), '%'].map((one) => `%${one}`).join(' ');
  const says =
    letter === ''
      ? 'the time format ends with a lone %'
      : `%${letter} is not a directive of a time format`;
  const hint = letter === '' ? 'write %% for a per cent sign' : undefined;
  return bad('time-format-unknown', says, { found: pattern, expected: `one of ${known}`, hint });
}

const incomplete = { code: 'time-format-incomplete' };

function missingFrom(used: ReadonlySet<string>): Problem | null {
  const has = (letters: string): boolean => letters.split('').some((letter) => used.has(letter));
  if (!has('s')) {
    const date = 'the year, month and day, such as %Y-%m-%d';
    if (!has('Yy')) {
      const hint =
        'dates such as May 8 06:15:00 need no format: leave it out, and give the date of the first row with --date';
      return { ...incomplete, says: 'the time format has no year', expected: date, hint };
    }
    if (!has('j') && !(has('mbBh') && has('de')))
      return { ...incomplete, says: 'the time format has no month or no day', expected: date };
  }
  if (has('Il') && !has('pP')) {
    const hint = 'write %H for hours from 00 to 23, or add %p';
    return { ...incomplete, says: 'the time format has %I without %p', hint };
  }
  if (has('Hk') && has('pP')) {
    const hint = 'write %I in place of %H';
    return { ...incomplete, says: 'the time format has %p beside the hours of a whole day', hint };
  }
  return null;
}

function noParts(): Parts {
  return {
    year: 0,
    month: 1,
    day: 1,
    dayOfYear: 0,
    hour: 0,
    half: -1,
    minute: 0,
    second: 0,
    millisecond: 0,
    offsetMs: Number.NaN,
    epochSeconds: Number.NaN,
  };
}

function reset(parts: Parts): void {
  parts.year = 0;
  parts.month = 1;
  parts.day = 1;
  parts.dayOfYear = 0;
  parts.hour = 0;
  parts.half = -1;
  parts.minute = 0;
  parts.second = 0;
  parts.millisecond = 0;
  parts.offsetMs = Number.NaN;
  parts.epochSeconds = Number.NaN;
}

function millisecondsOf(parts: Parts, hours12: boolean): number {
  const { epochSeconds, millisecond } = parts;
  if (!Number.isNaN(epochSeconds)) return epochSeconds * 1_000 + millisecond;
  const { year, dayOfYear, minute, second } = parts;
  const day =
    dayOfYear > 0 ? dayOfYearNumber(year, dayOfYear) : dayNumber(year, parts.month, parts.day);
  const hour = hours12 ? (parts.hour % 12) + parts.half : parts.hour;
  if (hours12 && parts.hour > 12) return Number.NaN;
  if (!(hour <= 23 && minute <= 59 && second <= 59)) return Number.NaN;
  const localMs = day * dayMs + hour * 3_600_000 + minute * 60_000 + second * 1_000 + millisecond;
  return Number.isNaN(parts.offsetMs) ? localMs : localMs - parts.offsetMs;
}

function dayOfYearNumber(year: number, dayOfYear: number): number {
  const first = dayNumber(year, 1, 1);
  return dayOfYear <= dayNumber(year + 1, 1, 1) - first ? first + dayOfYear - 1 : Number.NaN;
}
