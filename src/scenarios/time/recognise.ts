// Which pattern of strptime a written time fits. Dots mean day.month.year, a year in front year, month, day; slashes or
// dashes with the year last could be either of two, which a whole column has to settle.

/** The patterns that a text could be of: none, one, or the two orders of a day and a month, the day first. */
export type Recognised = readonly [] | readonly [string] | readonly [string, string];

const monthWord =
  '(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?';
const weekdayWord =
  /^(?:mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?)\b(?<point>\.?)(?<mark>,?)\s+/iu;

interface DateForm {
  readonly form: RegExp;
  /** Its pattern; `$1` and so on are what the form found. */
  readonly patterns: readonly [string] | readonly [string, string];
}

const dateForms: readonly DateForm[] = [
  { form: /^\d{4}([-/.])\d{1,2}\1\d{1,2}(?!\d)/u, patterns: ['%Y$1%m$1%d'] },
  {
    form: /^\d{4}(?:0[1-9]|1[0-2])[0-3]\d(?=$|[T_\s]|\d{4}(?:\d{2}(?:[.,]\d{1,9})?)?$)/u,
    patterns: ['%Y%m%d'],
  },
  { form: /^\d{1,2}\.(\s?)\d{1,2}\.(\s?)\d{4}(?!\d)/u, patterns: ['%d.$1%m.$2%Y'] },
  { form: /^\d{1,2}\.\d{1,2}\.\d{2}(?!\d)/u, patterns: ['%d.%m.%y'] },
  {
    form: /^\d{1,2}([-/])\d{1,2}\1\d{4}(?!\d)/u,
    patterns: ['%d$1%m$1%Y', '%m$1%d$1%Y'],
  },
  {
    form: new RegExp(`^\\d{1,2}([-/. ]|\\. )${monthWord}([-/., ]|, )\\d{4}(?!\\d)`, 'iu'),
    patterns: ['%d$1%b$2%Y'],
  },
  {
    form: new RegExp(`^${monthWord} \\d{1,2}(,?) \\d{4}(?!\\d)`, 'iu'),
    patterns: ['%b %d$1 %Y'],
  },
  {
    form: new RegExp(`^\\d{4}([-/ ])${monthWord}\\1\\d{1,2}(?!\\d)`, 'iu'),
    patterns: ['%Y$1%b$1%d'],
  },
];

/** `Nov 28 06:02:00` or `28 Nov 06:02:00`, with a day of the week in front or not: a date without a year. */
const yearlessForm = new RegExp(
  `^(?:(?<month>${monthWord}) {1,2}(?<day>\\d{1,2})|(?<dayFirst>\\d{1,2})[. -]{1,2}(?<monthLast>${monthWord})),? +(?<clock>\\d{1,2}:\\d{2}\\S*)$`,
  'iu',
);

/** A date without a year. */
export interface YearlessDate {
  readonly month: string;
  readonly day: string;
  readonly clock: string;
}

/** Null: it is no date, or has a year. */
export function yearlessDate(written: string): YearlessDate | null {
  if (written.length > 40) return null;
  const text = written.trim().replace(weekdayWord, '');
  const { month, monthLast, day, dayFirst, clock } = yearlessForm.exec(text)?.groups ?? {};
  if (clock === undefined) return null;
  return { month: month ?? monthLast ?? '', day: day ?? dayFirst ?? '', clock };
}

/** Between a date and its time. */
const gap = /^(?:T|_|:(?=\d\d:)|,?\s+(?:at\s+|-\s+|T)?|,)/iu;

const clockForms: readonly (readonly [RegExp, string])[] = [
  [/^\d{1,2}:\d{2}:\d{2}([.,])\d{1,9}/u, '%H:%M:%S$1%f'],
  [/^\d{1,2}:\d{2}:\d{2}(?!\d)/u, '%H:%M:%S'],
  [/^\d{1,2}:\d{2}(?!\d)/u, '%H:%M'],
  [/^\d{1,2}\.\d{2}\.\d{2}(?!\d)/u, '%H.%M.%S'],
  [/^\d{1,2}\.\d{2}(?!\d)/u, '%H.%M'],
  [/^\d{6}([.,])\d{1,9}/u, '%H%M%S$1%f'],
  [/^\d{6}(?!\d)/u, '%H%M%S'],
  [/^\d{4}(?!\d)/u, '%H%M'],
  [/^\d{1,2}(?=\s?[ap]\.?\s?m)/iu, '%H'],
];

const halfForm = /^(\s?)[ap]\.?\s?m\b\.?/iu;
const zoneForm = /^(\s?)(?:(Z|UTC|GMT|[+-]\d{2}(?::?\d{2})?)|([A-Z]{3,5}))$/u;

/** Recognises a date with a time, or a date alone. */
export function recognisedPatterns(written: string): Recognised {
  const text = written.trim();
  if (text.length > 80) return [];
  const weekday = weekdayWord.exec(text);
  const from = weekday?.[0].length ?? 0;
  const start = weekday === null ? '' : `%a${weekday.groups?.['mark'] ?? ''} `;
  const ctime = ctimePattern(text.slice(from));
  if (ctime !== null) return [`${start}${ctime}`];
  for (const { form, patterns } of dateForms) {
    const date = form.exec(text.slice(from));
    if (date === null) continue;
    const rest = clockPattern(text.slice(from + date[0].length));
    if (rest === null) continue;
    const whole = patterns.map((pattern) => `${start}${filled(pattern, date)}${rest}`);
    const [first = '', second] = whole;
    return second === undefined ? [first] : [first, second];
  }
  return [];
}

/** `May  8 06:00:00 2026`, behind a day of the week or not. */
function ctimePattern(text: string): string | null {
  const form = new RegExp(
    `^${monthWord}\\s+\\d{1,2}\\s+\\d{1,2}:\\d{2}:\\d{2}\\s+(?:([A-Z]{3,5})\\s+)?\\d{4}$`,
    'iu',
  );
  const match = form.exec(text);
  if (match === null) return null;
  const [, zone] = match;
  if (zone === undefined) return '%b %e %H:%M:%S %Y';
  return `%b %e %H:%M:%S ${/^(?:UTC|GMT)$/iu.test(zone) ? '%z' : '%Z'} %Y`;
}

/** The pattern of all that follows a date; null: it is not a time. */
function clockPattern(text: string): string | null {
  if (text === '') return '';
  const [between] = gap.exec(text) ?? (/^\d{4}(?:\d{2}(?:[.,]\d{1,9})?)?$/u.test(text) ? [''] : []);
  if (between === undefined) return null;
  const rest = text.slice(between.length);
  for (const [form, pattern] of clockForms) {
    const clock = form.exec(rest);
    if (clock === null) continue;
    const after = rest.slice(clock[0].length);
    const half = halfForm.exec(after);
    const hours = filled(pattern, clock);
    const time = half === null ? hours : `${hours.replace('%H', '%I')}${half[1] ?? ''}%p`;
    const zone = zonePattern(after.slice(half?.[0].length ?? 0));
    if (zone !== null && (half !== null || pattern !== '%H')) return `${between}${time}${zone}`;
  }
  return null;
}

function zonePattern(text: string): string | null {
  if (text === '') return '';
  const match = zoneForm.exec(text);
  if (match === null) return null;
  return `${match[1] ?? ''}${match[2] === undefined ? '%Z' : '%z'}`;
}

/** Spaces of any kind and number are one in a pattern. */
function filled(pattern: string, match: RegExpExecArray): string {
  return pattern.replaceAll(/\$(\d)/gu, (_, index: string) => match[Number(index)] ?? '');
}

/** A day and a month, in either order, with a year of two digits: which is which cannot be seen. */
export function hasShortYear(text: string): boolean {
  return /^\s*\d{1,2}[-/]\d{1,2}[-/]\d{2}(?!\d)/u.test(text);
}

/** A time of day without a date. */
export function isTimeOfDay(text: string): boolean {
  return /^\d{1,2}(?::\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?(?: ?[ap]\.?m\.?)?| ?[ap]\.?m\.?) ?(?:Z|[+-]\d{2}(?::?\d{2})?)?$/iu.test(
    text.trim().replaceAll(/\s/gu, ' '),
  );
}
