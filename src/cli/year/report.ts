// What `year` prints: the year first, then the charges, then what would be otherwise.
import { counted, roughDurationText } from '../../base/index.js';
import { figure, plainCut } from '../../wording/index.js';
import type { LivedYears } from '../../year/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';

export interface YearView {
  /** Null: the defaults apply. */
  readonly file: string | null;
  readonly profile: string;
  readonly seed: string;
  readonly start: string;
  readonly assumes: readonly string[];
  readonly holds: boolean;
  /** The watch sends low-battery messages. */
  readonly warns: boolean;
  /** Somebody answers alerts. */
  readonly isAnswered: boolean;
  readonly set: LivedYears;
  /** Null: nobody charges it every so often, or after a warning. */
  readonly aWeekLate: LivedYears | null;
  /** Holding where it goes on watching, and the other way round. */
  readonly otherwise: LivedYears;
  readonly hasSupply: boolean;
  /** Null: a charge lasts less than two days. */
  readonly chargeBy: readonly string[] | null;
}

export function yearJson({ holds, warns: _, ...view }: YearView): string {
  const afterAlert = holds ? 'hold-until-reset' : 'keep-watching';
  return `${JSON.stringify({ schema: 'dozewatch/year/1', afterAlert, ...view }, null, 2)}\n`;
}

export function perYear(
  lived: LivedYears,
  name: Exclude<keyof LivedYears, 'worstDelayMs'>,
): string {
  const { years } = lived;
  return lived[name] === 0 ? '0' : figure(lived[name] / years, 'up');
}

export function yearReport(
  view: YearView,
  { width, paint }: { readonly width: number; readonly paint: Paint },
): string {
  const name = paint.bold(plainCut(view.file ?? 'the defaults', 200));
  const head = `${name}: ${yearSentence(view)}`;
  return [
    paragraphText(head, width),
    `\n${factsText(rows(view), width)}`,
    ...[chargeText(view), lateText(view), otherwiseText(view)]
      .filter((text) => text !== '')
      .map((text) => `\n${paragraphText(text, width)}`),
  ].join('');
}

export function yearSentence({ set, assumes }: YearView): string {
  const assumed = assumes.length === 0 ? '' : `, assuming that ${assumes.join('; ')}`;
  return `the device ${missedText(set)} per year, and raises ${manyOf(set, 'falseAlarms', 'false alarm')}${assumed}.`;
}

/** `no alert`, `1 alert`, `2.5 alerts` */
function manyOf(lived: LivedYears, name: Parameters<typeof perYear>[1], noun: string): string {
  return lived[name] === 0 ? `no ${noun}` : manyText(perYear(lived, name), noun);
}

function manyText(count: string, noun: string): string {
  return `${count} ${count === '1' ? noun : `${noun}s`}`;
}

function missedText(set: LivedYears): string {
  if (set.leaveOpens === 0) return 'has no leave-open to report';
  const all = manyText(perYear(set, 'leaveOpens'), 'leave-open');
  return set.missed === 0 ? `misses none of ${all}` : `MISSES ${perYear(set, 'missed')} of ${all}`;
}

/** The missed ones, and how many of them for want of a charge. */
function missedRow(set: LivedYears): string {
  if (set.missed === 0) return '0';
  const { missed, unpowered } = set;
  const without =
    unpowered === 0 ? 'none' : unpowered === missed ? 'all' : perYear(set, 'unpowered');
  return `${perYear(set, 'missed')}, ${without} of them without charge`;
}

function cameText(set: LivedYears): string {
  if (set.answeredAlerts === 0 && set.answeredSilences === 0) return 'never';
  const times = (name: 'answeredAlerts' | 'answeredSilences'): string => {
    const count = perYear(set, name);
    return count === '0' ? 'never' : count === '1' ? 'once' : `${count} times`;
  };
  return `${times('answeredAlerts')} for an alert, ${times('answeredSilences')} because messages stopped`;
}

function rows(view: YearView): (readonly [string, string])[] {
  const { set } = view;
  const flat = set.flatMs / set.years;
  return [
    ['profile', plainCut(view.profile, 600)],
    ['simulated years', `${String(set.years)}, seed ${plainCut(view.seed, 200)}`],
    ['openings', `${perYear(set, 'openings')} per year`],
    ['reported in time', perYear(set, 'reported')],
    ['reported late', perYear(set, 'late')],
    ['MISSED', missedRow(set)],
    ['alerts delivered', perYear(set, 'alertsDelivered')],
    ['heartbeats delivered', perYear(set, 'heartbeatsDelivered')],
    ...(view.warns ? [['low-battery messages', perYear(set, 'lowBatteryDelivered')] as const] : []),
    ...(set.charges === 0 ? [] : [['charges', perYear(set, 'charges')] as const]),
    ['off without charge', flat === 0 ? 'never' : `${roughDurationText(flat)} per year`],
    ['somebody comes', cameText(set)],
  ];
}

function chargeText({ chargeBy, hasSupply, start, aWeekLate }: YearView): string {
  if (!hasSupply) return 'The watch file has no supply section, so nothing is known of charges.';
  if (chargeBy === null) return 'A charge lasts less than two days: no calendar is of use.';
  if (chargeBy.length === 0) return 'One charge lasts for the year.';
  const count = counted(chargeBy.length, 'charge');
  const days = `Charge by ${chargeBy.join(', ')}: ${count}, each full, if it is full on ${start}.`;
  return aWeekLate === null
    ? `${days} These years simulate no charges: answer: { charges: { every: 3w } } in the watch file also shows what a late charge costs.`
    : days;
}

function lateText({ set, aWeekLate }: YearView): string {
  if (aWeekLate === null) return '';
  const more = (aWeekLate.missed - set.missed) / set.years;
  const text =
    more <= 0
      ? 'no further leave-open'
      : `${figure(more, 'up')} more ${figure(more, 'up') === '1' ? 'leave-open' : 'leave-opens'} per year`;
  return `If each charge comes a week late, the device misses ${text}.`;
}

function otherwiseText({ set, otherwise, holds, isAnswered }: YearView): string {
  const [here, there] = holds
    ? ['waits for a reset', 'goes on watching']
    : ['goes on watching', 'waits for a reset'];
  const alone =
    holds || isAnswered ? '' : ' and nobody answers an alert (answer.afterAlert is not given)';
  const of = (lived: LivedYears): string =>
    `misses ${manyOf(lived, 'missed', 'leave-open')} and delivers ${manyOf(lived, 'alertsDelivered', 'alert')} per year`;
  return `After an alert the device ${here}: it ${of(set)}. If it ${there}${alone}, it ${of(otherwise)}.`;
}
