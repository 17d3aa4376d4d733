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

function perYear(lived: LivedYears, name: Exclude<keyof LivedYears, 'worstDelayMs'>): string {
  const { years } = lived;
  return lived[name] === 0 ? '0' : figure(lived[name] / years, 'up');
}

export function yearReport(
  view: YearView,
  { width, paint }: { readonly width: number; readonly paint: Paint },
): string {
  const { set, assumes } = view;
  const name = paint.bold(plainCut(view.file ?? 'the defaults', 200));
  const assumed = assumes.length === 0 ? '' : `, assuming that ${assumes.join('; ')}`;
  const missed = `${perYear(set, 'missed')} of ${perYear(set, 'leaveOpens')} leave-opens MISSED`;
  const head = `${name}: in a year ${missed}, ${perYear(set, 'falseAlarms')} false alarms${assumed}.`;
  return [
    paragraphText(head, width),
    `\n${factsText(rows(view), width)}`,
    ...[chargeText(view), lateText(view), otherwiseText(view)]
      .filter((text) => text !== '')
      .map((text) => `\n${paragraphText(text, width)}`),
  ].join('');
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
    ['MISSED', `${perYear(set, 'missed')}, of them ${perYear(set, 'unpowered')} without charge`],
    ['alerts delivered', perYear(set, 'alertsDelivered')],
    ['heartbeats delivered', perYear(set, 'heartbeatsDelivered')],
    ...(view.warns ? [['low-battery messages', perYear(set, 'lowBatteryDelivered')] as const] : []),
    ['charges', perYear(set, 'charges')],
    ['off without charge', flat === 0 ? 'never' : `${roughDurationText(flat)} per year`],
    [
      'somebody came',
      `for an alert ${perYear(set, 'answeredAlerts')} times, for silence ${perYear(set, 'answeredSilences')} times`,
    ],
  ];
}

function chargeText({ chargeBy, hasSupply, start }: YearView): string {
  if (!hasSupply) return 'The watch file has no supply section, so nothing is known of charges.';
  if (chargeBy === null) return 'A charge lasts less than two days: no calendar is of use.';
  if (chargeBy.length === 0) return 'One charge lasts for the year.';
  const count = counted(chargeBy.length, 'charge');
  return `Charge by ${chargeBy.join(', ')}: ${count}, each full, if it is full on ${start}.`;
}

function lateText({ set, aWeekLate }: YearView): string {
  if (aWeekLate === null) return '';
  const more = (aWeekLate.missed - set.missed) / set.years;
  const text =
    more <= 0 ? 'no further leave-open' : `${figure(more, 'up')} more leave-opens per year`;
  return `If each charge comes a week late, the device misses ${text}.`;
}

function otherwiseText({ set, otherwise, holds, isAnswered }: YearView): string {
  const [here, there] = holds
    ? ['waits for a reset', 'goes on watching']
    : ['goes on watching', 'waits for a reset'];
  const alone =
    holds || isAnswered ? '' : ' and nobody answers an alert (answer.afterAlert is not given)';
  const of = (lived: LivedYears): string =>
    `misses ${perYear(lived, 'missed')} leave-opens and delivers ${perYear(lived, 'alertsDelivered')} alerts per year`;
  return `After an alert the device ${here}: it ${of(set)}. If it ${there}${alone}, it ${of(otherwise)}.`;
}
