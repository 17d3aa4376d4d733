// Times as exports of logs write them: forms that are recognised, forms that are not, and patterns.
import type { Temporal } from 'temporal-polyfill';

type Local = Temporal.PlainDateTime;

/** A way to write a time of UTC. */
interface Form {
  readonly name: string;
  readonly write: (local: Local) => string;
  /** What the form loses, in milliseconds. */
  readonly cuts?: number;
  /** It has no one meaning, or lacks a part: only kept as it is. */
  readonly unclear?: true;
}

const two = (value: number): string => String(value).padStart(2, '0');
const months =
  'January February March April May June July August September October November December'.split(
    ' ',
  );
const days = 'Monday Tuesday Wednesday Thursday Friday Saturday Sunday'.split(' ');

const ymd = ({ year, month, day }: Local, mark = '-'): string =>
  [String(year), two(month), two(day)].join(mark);
const dmy = ({ year, month, day }: Local, mark: string): string =>
  [two(day), two(month), String(year)].join(mark);
const mdy = ({ year, month, day }: Local, mark: string): string =>
  [two(month), two(day), String(year)].join(mark);
const hm = ({ hour, minute }: Local, mark = ':'): string => `${two(hour)}${mark}${two(minute)}`;
const hms = (local: Local, mark = ':'): string => `${hm(local, mark)}${mark}${two(local.second)}`;
const milli = ({ millisecond }: Local): string => String(millisecond).padStart(3, '0');
const month = (local: Local): string => months[local.month - 1] ?? '';
const mon = (local: Local): string => month(local).slice(0, 3);
const day = (local: Local): string => days[local.dayOfWeek - 1] ?? '';
const half = (local: Local, words: readonly [string, string] = ['AM', 'PM']): string =>
  words[local.hour < 12 ? 0 : 1];
const twelve = ({ hour }: Local): string => String(hour % 12 === 0 ? 12 : hour % 12);
const epochMs = (local: Local): number => local.toZonedDateTime('UTC').epochMilliseconds;

const second = 1_000;
const minute = 60_000;

/** Local time of a fixed offset. */
function shifted(local: Local, minutes: number): Local {
  return local.add({ minutes });
}

export const forms: readonly Form[] = [
  { name: 'iso', write: (t) => `${ymd(t)}T${hms(t)}`, cuts: second },
  { name: 'iso with a space', write: (t) => `${ymd(t)} ${hms(t)}`, cuts: second },
  { name: 'iso in minutes', write: (t) => `${ymd(t)} ${hm(t)}`, cuts: minute },
  { name: 'iso utc', write: (t) => `${ymd(t)}T${hms(t)}.${milli(t)}Z` },
  { name: 'iso small letters', write: (t) => `${ymd(t)}t${hms(t)}.${milli(t)}z` },
  { name: 'iso comma', write: (t) => `${ymd(t)} ${hms(t)},${milli(t)}` },
  { name: 'iso microseconds', write: (t) => `${ymd(t)} ${hms(t)}.${milli(t)}987` },
  { name: 'iso one digit', write: (t) => `${ymd(t)} ${hms(t)}.${milli(t).slice(0, 1)}`, cuts: 100 },
  {
    name: 'iso +02:00',
    write: (t) => `${ymd(shifted(t, 120))}T${hms(shifted(t, 120))}+02:00`,
    cuts: second,
  },
  {
    name: 'iso -0330',
    write: (t) => `${ymd(shifted(t, -210))} ${hms(shifted(t, -210))}-0330`,
    cuts: second,
  },
  {
    name: 'iso +05',
    write: (t) => `${ymd(shifted(t, 300))} ${hms(shifted(t, 300))} +05`,
    cuts: second,
  },
  {
    name: 'iso -00:30',
    write: (t) => `${ymd(shifted(t, -30))}T${hms(shifted(t, -30))}-00:30`,
    cuts: second,
  },
  { name: 'slashes, year first', write: (t) => `${ymd(t, '/')} ${hms(t)}`, cuts: second },
  { name: 'dots, year first', write: (t) => `${ymd(t, '.')} ${hm(t)}`, cuts: minute },
  { name: 'compact', write: (t) => `${ymd(t, '')}${hms(t, '')}`, cuts: second },
  { name: 'compact T', write: (t) => `${ymd(t, '')}T${hms(t, '')}Z`, cuts: second },
  { name: 'compact minutes', write: (t) => `${ymd(t, '')} ${hm(t, '')}`, cuts: minute },
  { name: 'compact underscore', write: (t) => `${ymd(t, '')}_${hms(t, '')}`, cuts: second },
  { name: 'dots', write: (t) => `${dmy(t, '.')} ${hms(t)}`, cuts: second },
  { name: 'dots, comma', write: (t) => `${dmy(t, '.')}, ${hm(t)}`, cuts: minute },
  { name: 'dots, spaced', write: (t) => `${dmy(t, '. ')} ${hm(t)}`, cuts: minute },
  {
    name: 'dots, short',
    write: (t) => `${String(t.day)}.${String(t.month)}.${two(t.year % 100)} ${hm(t)}`,
    cuts: minute,
  },
  { name: 'dots in the time', write: (t) => `${dmy(t, '.')} ${hms(t, '.')}`, cuts: second },
  { name: 'dots in minutes', write: (t) => `${dmy(t, '.')} ${hm(t, '.')}`, cuts: minute },
  { name: 'dots, fraction', write: (t) => `${dmy(t, '.')} ${hms(t)},${milli(t)}` },
  {
    name: 'dots, 12 hours',
    write: (t) => `${dmy(t, '.')} ${twelve(t)}:${two(t.minute)} ${half(t, ['a.m.', 'p.m.'])}`,
    cuts: minute,
  },
  { name: 'day first', write: (t) => `${dmy(t, '/')} ${hms(t)}`, unclear: true },
  {
    name: 'month first',
    write: (t) => `${mdy(t, '/')} ${twelve(t)}:${two(t.minute)}:${two(t.second)} ${half(t)}`,
    unclear: true,
  },
  { name: 'day first, dashes', write: (t) => `${dmy(t, '-')}T${hm(t)}`, unclear: true },
  {
    name: 'month first, an offset',
    write: (t) => `${mdy(t, '/')}, ${hms(t)} +00:00`,
    unclear: true,
  },
  {
    name: 'short year',
    write: (t) => `${two(t.day)}/${two(t.month)}/${two(t.year % 100)} ${hm(t)}`,
    unclear: true,
  },
  {
    name: 'month in words',
    write: (t) =>
      `${mon(t)} ${String(t.day)}, ${String(t.year)} ${twelve(t)}:${hms(t).slice(3)} ${half(t)}`,
    cuts: second,
  },
  {
    name: 'whole month',
    write: (t) => `${month(t)} ${String(t.day)} ${String(t.year)} ${hm(t)}`,
    cuts: minute,
  },
  {
    name: 'day and month',
    write: (t) => `${two(t.day)} ${mon(t)} ${String(t.year)} ${hms(t)}`,
    cuts: second,
  },
  {
    name: 'day-month-year',
    write: (t) => `${two(t.day)}-${mon(t).toUpperCase()}-${String(t.year)} ${hms(t)}`,
    cuts: second,
  },
  {
    name: 'german month',
    write: (t) => `${String(t.day)}. ${month(t)} ${String(t.year)} ${hm(t)}`,
    cuts: minute,
  },
  {
    name: 'year, month, day',
    write: (t) => `${String(t.year)}-${mon(t)}-${two(t.day)} ${hms(t)}`,
    cuts: second,
  },
  {
    name: 'web server',
    write: (t) => `${two(t.day)}/${mon(t)}/${String(t.year)}:${hms(t)} +0000`,
    cuts: second,
  },
  {
    name: 'mail',
    write: (t) => `${day(t).slice(0, 3)}, ${two(t.day)} ${mon(t)} ${String(t.year)} ${hms(t)} GMT`,
    cuts: second,
  },
  {
    name: 'whole weekday',
    write: (t) =>
      `${day(t)}, ${month(t)} ${String(t.day)}, ${String(t.year)} at ${twelve(t)}:${two(t.minute)} ${half(t, ['am', 'pm'])}`,
    cuts: minute,
  },
  {
    name: 'weekday with a point',
    write: (t) => `${day(t).slice(0, 2)}. ${dmy(t, '.')} ${hm(t)}`,
    unclear: true,
  },
  {
    name: 'ctime',
    write: (t) =>
      `${day(t).slice(0, 3)} ${mon(t)} ${String(t.day).padStart(2)} ${hms(t)} ${String(t.year)}`,
    cuts: second,
  },
  {
    name: 'ctime with a zone',
    write: (t) =>
      `${day(t).slice(0, 3)} ${mon(t)} ${String(t.day).padStart(2)} ${hms(t)} UTC ${String(t.year)}`,
    unclear: true,
  },
  {
    name: 'hours alone',
    write: (t) => `${dmy(t, '.')} ${twelve(t)} ${half(t)}`,
    cuts: 60 * minute,
  },
  { name: 'date alone', write: (t) => ymd(t), cuts: 24 * 60 * minute },
  { name: 'date alone, dots', write: (t) => dmy(t, '.'), cuts: 24 * 60 * minute },
  { name: 'seconds', write: (t) => String(Math.floor(epochMs(t) / 1_000)), cuts: second },
  { name: 'seconds with a fraction', write: (t) => (epochMs(t) / 1_000).toFixed(3) },
  { name: 'milliseconds', write: (t) => String(epochMs(t)) },
  { name: 'microseconds', write: (t) => `${String(epochMs(t))}321`, unclear: true },
  { name: 'nanoseconds', write: (t) => `${String(epochMs(t))}000321`, unclear: true },
];

/** Zones, and an instant at which their clocks change. */
export const zones: readonly { readonly zone: string; readonly change: string }[] = [
  { zone: 'Europe/Oslo', change: '2026-03-29T01:00Z' },
  { zone: 'Europe/Oslo', change: '2026-10-25T01:00Z' },
  { zone: 'America/New_York', change: '2026-03-08T07:00Z' },
  { zone: 'America/New_York', change: '2026-11-01T06:00Z' },
  { zone: 'Australia/Lord_Howe', change: '2026-04-04T15:00Z' },
  { zone: 'Australia/Lord_Howe', change: '2026-10-03T15:30Z' },
  { zone: 'America/St_Johns', change: '2006-10-29T02:31Z' },
  { zone: 'Asia/Kathmandu', change: '1985-12-31T18:30Z' },
  { zone: 'Africa/Casablanca', change: '2026-02-15T02:00Z' },
];
