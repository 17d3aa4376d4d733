// What `year` prints: the year first, then the charges, then what would be otherwise.

import {
  counted,
  dayMs,
  durationText,
  figure,
  leastOf,
  numberText,
  percentText,
  roughDurationText,
  sentence,
  weekMs,
} from '../../base/index.js';
import { chargeText as amountText, lifeText } from '../../battery/index.js';
import type { Estimate, Rate } from '../../estimate/index.js';
import type { ChargingHabit } from '../../model/index.js';
import {
  assumingText,
  falseAlarmsEach,
  isOpenInLog,
  knownText,
  plainCut,
  type Renewal,
} from '../../wording/index.js';
import type { LivedYears } from '../../year/index.js';
import { dozewatchLine, watchWords } from '../layout/next-line.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';
import { daysText, stepsOf } from './days-text.js';

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
  /** The years drain the battery; otherwise it always has charge. */
  readonly isDrained: boolean;
  /** Somebody answers alerts. */
  readonly isAnswered: boolean;
  readonly set: LivedYears;
  /** What an estimate of the same years says. */
  readonly expected: Estimate;
  /** Leave-opens are late after a time. */
  readonly hasLimit: boolean;
  /** Null: nobody charges it every so often, or after a warning. */
  readonly aWeekLate: LivedYears | null;
  /** The same years with cells that hold the least, where the years drain cells whose capacity is a range; else null. */
  readonly weakest: {
    readonly lived: LivedYears;
    readonly leastNah: number;
    readonly usualNah: number;
  } | null;
  /** When the years charge it, where they drain it. */
  readonly charging: ChargingHabit | null;
  /** Holding where it goes on watching, and the other way round. */
  readonly otherwise: LivedYears;
  readonly hasSupply: boolean;
  /** The watch file has `answer:`, to which a key is added. */
  readonly hasAnswer: boolean;
  /** How it is renewed, and whether its capacity is a range. */
  readonly renewal: Renewal;
  readonly hasCells: boolean;
  /** Null: a charge lasts less than two days. */
  readonly chargeBy: readonly string[] | null;
  /** The day from which, in the first year, it waits for a reset that does not come, and whether its alert was lost; null: it does not. */
  readonly waitsForReset: { readonly from: string; readonly isLost: boolean } | null;
  /** How long a full charge lasts while it waits; null: not known, or over a hundred years. */
  readonly heldLifeMs: number | null;
}

export function yearJson({
  holds,
  warns: _,
  isDrained: __,
  hasLimit: ___,
  renewal: ____,
  hasCells: _____,
  charging: ______,
  weakest: _________,
  hasAnswer: _______,
  heldLifeMs: ________,
  ...view
}: YearView): string {
  const afterAlert = holds ? 'hold-until-reset' : 'keep-watching';
  const { set, aWeekLate, otherwise, expected } = view;
  const { missed, falseAlarms } = expected.rates;
  const json = {
    schema: 'dozewatch/year/1',
    afterAlert,
    ...view,
    set: countsOf(set),
    expected: { confidence: expected.confidence, missed, falseAlarms },
    aWeekLate: aWeekLate === null ? null : countsOf(aWeekLate),
    otherwise: countsOf(otherwise),
  };
  return `${JSON.stringify(json, null, 2)}\n`;
}

function countsOf({ tally: _, ...counts }: LivedYears): Omit<LivedYears, 'tally'> {
  return counts;
}

type CountName = Exclude<keyof LivedYears, 'worstDelayMs' | 'tally'>;

/** What a sum over the years is in one of them; the same wherever it is printed. */
export function perYear(lived: LivedYears, name: CountName): string {
  return figure(lived[name] / lived.years, isBad.has(name) ? 'up' : 'about');
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
    ...[doubtText(view), chargeText(view), lateText(view), otherwiseText(view)]
      .filter((text) => text !== '')
      .map((text) => `\n${paragraphText(text, width)}`),
  ].join('');
}

export function yearSentence({ set, assumes }: YearView): string {
  const assumed = assumingText(assumes);
  const alarms = countedOrNo(set.falseAlarms, 'false alarm');
  return `in ${counted(set.years, 'simulated year')} the device ${missedText(set)} and raised ${alarms}${assumed}.`;
}

/** `no alert`, `1 alert`, `25 alerts` */
export function countedOrNo(count: number, noun: string): string {
  return count === 0 ? `no ${noun}` : counted(count, noun);
}

function missedText(set: LivedYears): string {
  const { missed, leaveOpens } = set;
  if (leaveOpens === 0) return 'had no leave-open to report';
  const all = counted(leaveOpens, 'leave-open');
  return missed === 0 ? `missed none of ${all}` : `MISSED ${numberText(missed)} of ${all}`;
}

/** The missed ones, and how many of them because the charge was used up. */
function missedRow({ set, isDrained, renewal }: YearView): string {
  if (set.missed === 0) return '0';
  const { missed, unpowered } = set;
  const { missedByLoss: byLoss } = set.tally;
  const lost = byLoss === missed ? 'all' : numberText(byLoss);
  const because =
    byLoss === 0
      ? ''
      : `, ${lost} of them because ${byLoss === 1 ? 'its' : 'their'} alerts were lost`;
  if (!isDrained) return `${countOf(set, 'missed')}${because}`;
  const without = unpowered === 0 ? 'none' : unpowered === missed ? 'all' : numberText(unpowered);
  return `${countOf(set, 'missed')}, ${without} of them because ${renewal.usedUp.past}${because}`;
}

/** Their rates are rounded up. */
const isBad: ReadonlySet<string> = new Set(['missed', 'late', 'falseAlarms']);

/** `1 in all, 0.334 per year`: a sum over the years, and what it is in one of them. */
function countOf(lived: LivedYears, name: CountName): string {
  const { years } = lived;
  const count = lived[name];
  if (count === 0 || years === 1) return numberText(count);
  const rate = perYear(lived, name);
  const isExact = isBad.has(name) || rate === numberText(count / years);
  return `${numberText(count)} in all, ${isExact ? '' : 'about '}${rate} per year`;
}

/** As dozewatch estimate has it for the same years. */
function doubtText({ expected }: YearView): string {
  const { missed, falseAlarms } = expected.rates;
  const of = (rate: Rate): string => knownText(rate, figure);
  const open = [missed, falseAlarms].some(isOpenInLog);
  const narrower = open
    ? 'Most of this doubt is from the length of the log: a longer log narrows it, more --years do not.'
    : 'More --years narrow this.';
  return `In the long run expect ${of(missed)} missed leave-opens and ${of(falseAlarms)} false alarms per year (95 %, as dozewatch estimate has it for the same years and seed). ${narrower}`;
}

function cameText({ set, holds, isAnswered }: YearView): string {
  const isSimulated = holds && isAnswered;
  const why = holds
    ? 'nobody answers an alert (answer.afterAlert is not given)'
    : 'after an alert this watch goes on watching and needs no reset, and a visit to shut the door is not counted';
  if (set.answeredAlerts === 0 && set.answeredSilences === 0) {
    return isSimulated ? 'never' : `never: ${why}`;
  }
  const times = (name: 'answeredAlerts' | 'answeredSilences'): string => {
    const count = perYear(set, name);
    return count === '0' ? 'never' : `${count === '1' ? 'once' : `${count} times`} per year`;
  };
  const forAlerts = isSimulated ? `${times('answeredAlerts')} for an alert, ` : '';
  const rest = isSimulated ? '' : `; ${why}`;
  return `${forAlerts}${times('answeredSilences')} because heartbeats were missing${rest}`;
}

function rows(view: YearView): (readonly [string, string])[] {
  const { set } = view;
  return [
    ['profile', plainCut(view.profile, 600)],
    ['simulated years', `${String(set.years)}, seed ${plainCut(view.seed, 200)}`],
    ['openings', countOf(set, 'openings')],
    ['leave-opens', countOf(set, 'leaveOpens')],
    [view.hasLimit ? 'reported in time' : 'reported', countOf(set, 'reported')],
    ...(view.hasLimit ? [['reported late', countOf(set, 'late')] as const] : []),
    ['MISSED', missedRow(view)],
    ['FALSE ALARMS', `${countOf(set, 'falseAlarms')}${eachText(set)}`],
    ['alerts delivered', countOf(set, 'alertsDelivered')],
    ['heartbeats delivered', countOf(set, 'heartbeatsDelivered')],
    ...(view.warns
      ? [
          [
            'low-battery messages',
            `${countOf(set, 'lowBatteryDelivered')}${whyNone(view)}`,
          ] as const,
        ]
      : []),
    ...(set.charges === 0 ? [] : [[view.renewal.times, countOf(set, 'charges')] as const]),
    [`off, ${view.renewal.usedUp.short}`, offText(view)],
    ['somebody comes to the device', cameText(view)],
  ];
}

function eachText(set: LivedYears): string {
  const each = falseAlarmsEach(set);
  return each === null ? '' : `, for ${percentText(each, 'up')} of the brief openings`;
}

/** A battery that these years do not drain is never low. */
function whyNone(view: YearView): string {
  const { isDrained, holds, set, renewal } = view;
  if (set.lowBatteryDelivered > 0) return '';
  if (isDrained && waitsForWarning(view)) {
    const why = unwarnedCharges(set, renewal);
    return set.charges === 0 ? ` (${why})` : ` (no warning came: ${why})`;
  }
  if (isDrained) {
    const isUsedUp = holds && set.flatMs > 0;
    return isUsedUp ? ' (a device that waits for a reset makes no checks, so it sends none)' : '';
  }
  return ' (the battery always has charge in these years; answer.charges in the watch file changes that)';
}

/** The file plans charges after a warning alone, and none came. */
function waitsForWarning({ charging, set }: Pick<YearView, 'charging' | 'set'>): boolean {
  const plansByWarning = charging?.everyMs === null && (charging.afterWarningMs ?? null) !== null;
  return plansByWarning && set.lowBatteryDelivered === 0;
}

/** Only a device that ran out of charge was warned too late. */
function unwarnedText({ set, renewal, file }: YearView): string {
  const battery = dozewatchLine(['battery', ...watchWords(file)]);
  if (set.flatMs === 0) {
    const why =
      set.charges === 0 ? '' : `: ${unwarnedCharges(set, renewal)}, although the device had charge`;
    return `No low-battery message came, and in none of these years was the device without charge${why}. How long before the end the message comes, or that it never does: ${battery}`;
  }
  const charges = set.charges === 0 ? '' : `: ${unwarnedCharges(set, renewal)}`;
  return `No low-battery message came, so answer.charges.afterWarning planned no ${renewal.one}${charges}. Repair that first: a higher watch.lowBattery warns sooner (how long before the end, or that it never does: ${battery}), or plan with answer.charges.every.`;
}

/** What led to the charges that no warning did. */
function unwarnedCharges({ charges }: LivedYears, { one }: Renewal): string {
  if (charges === 0) return `so no ${one} was planned`;
  return charges === 1
    ? `the one ${one} followed missing heartbeats`
    : `all ${counted(charges, one)} followed missing heartbeats`;
}

function offText({ set, isDrained }: YearView): string {
  if (!isDrained) return 'not simulated: the device always has charge here';
  const flat = set.flatMs / set.years;
  return flat === 0 ? 'never' : `${roughDurationText(flat)} per year`;
}

function chargeText(view: YearView): string {
  const { chargeBy, hasSupply, start, aWeekLate, renewal, hasCells, waitsForReset } = view;
  if (!hasSupply)
    return 'The watch file has no supply section, so nothing is known of its battery.';
  if (chargeBy === null) {
    const why = waitsForReset === null ? 'A' : 'While the device waits awake for a reset, a';
    const what = renewal.lasts.replace(/^a /u, '');
    const short = `${why} ${what} less than two days, so there are no days to ${renewal.act} by.`;
    return waitsForReset === null ? short : `${short} ${waitText(view, waitsForReset)}`;
  }
  if (chargeBy.length === 0) return `${sentence(renewal.lasts).replace(/\.$/u, '')} for the year.`;
  const least = hasCells ? ', even with the least that such cells hold' : '';
  const days = `The latest days to ${renewal.act}${least}, if ${renewal.full} on ${start} (--start) and after each of them: ${daysText(chargeBy)}.`;
  const instead = `The counts above are with answer.charges instead.${weakestText(view)}`;
  if (waitsForReset !== null) {
    return `${days} ${waitText(view, waitsForReset)}${aWeekLate === null ? '' : ` ${instead}`}`;
  }
  return aWeekLate === null
    ? `${days} The years above do not simulate an empty battery: ${chargesKey(view)} in the watch file does, and shows what a late day costs.`
    : `${days} ${instead}`;
}

/** What the charges of the watch file cost with cells for which the latest days are early enough; empty: nothing more. */
function weakestText({ weakest, set, charging, chargeBy, start, renewal }: YearView): string {
  if (weakest === null) return '';
  const { lived, leastNah, usualNah } = weakest;
  const more = lived.missed - set.missed;
  if (lived.flatMs <= set.flatMs && more <= 0) return '';
  const off = `the device is off for ${roughDurationText(lived.flatMs / lived.years, 'at most')} per year`;
  const missed = more <= 0 ? 'no further leave-open' : moreLeaveOpens(more, lived.years);
  const usual = `They simulate cells of ${amountText(usualNah)}. With the least that such cells hold, ${amountText(leastNah)}, ${off} and misses ${missed}`;
  const everyMs = charging?.everyMs ?? null;
  const lateMs = (everyMs ?? 0) - leastOf(stepsOf([start, ...(chargeBy ?? [])])) * dayMs;
  const late =
    everyMs === null || lateMs <= 0
      ? ''
      : `: a ${renewal.one} every ${durationText(everyMs)} comes up to ${roughDurationText(lateMs)} after these days`;
  return ` ${usual}${late}.`;
}

function moreLeaveOpens(more: number, years: number): string {
  const noun = more === 1 ? 'leave-open' : 'leave-opens';
  return `${numberText(more)} more ${noun} in ${years === 1 ? 'this year' : 'these years'}`;
}

/** Why it uses its charge so soon, and what to do: a charge does not make a device watch that waits. */
function waitText(
  view: YearView,
  { from, isLost }: NonNullable<YearView['waitsForReset']>,
): string {
  const { heldLifeMs, renewal, set } = view;
  const awake = heldLifeMs === null ? '' : ` Awake, ${renewal.fullLasts} ${lifeText(heldLifeMs)}.`;
  const [why, keys] = isLost
    ? [
        'that alert was lost (delivery.lost), so nobody comes',
        `${set.heartbeatsDelivered > 0 ? '' : 'heartbeats (watch.heartbeatInterval) and '}answer.afterMissedHeartbeat`,
      ]
    : [
        'nobody answers it (answer.afterAlert is not given)',
        `${answerKey(view, 'afterAlert: 1h')} in the watch file`,
      ];
  return `From its alert of ${from} on the device waits awake for a reset: ${why}.${awake} ${renewal.noReset} With ${keys} somebody resets it.`;
}

/** The calendar was written; it has no event where a charge lasts for the year, or less than two days. */
export function calendarWords({ chargeBy, renewal }: YearView, file: string): string {
  if (chargeBy !== null && chargeBy.length > 0) return `Calendar: ${file}`;
  const length = chargeBy === null ? 'less than two days' : 'for the year';
  return `Calendar: ${file} has no day, since ${renewal.lasts} ${length}.`;
}

/** What to add: often enough for the shortest time between two of these days. */
function chargesKey(view: YearView): string {
  const days = leastOf(stepsOf([view.start, ...(view.chargeBy ?? [])]));
  const every = days < 7 ? `${String(Math.max(1, days))}d` : `${String(Math.floor(days / 7))}w`;
  return answerKey(view, `charges: { every: ${every} }`);
}

function answerKey({ hasAnswer }: YearView, key: string): string {
  return hasAnswer ? `${key} under answer:` : `answer: { ${key} }`;
}

/** It is of the charges that the years have, not of the latest days, after which nothing is left. */
function lateText(view: YearView): string {
  const { set, aWeekLate, charging, renewal } = view;
  if (charging !== null && waitsForWarning(view)) {
    return unwarnedText(view);
  }
  if (aWeekLate === null || charging === null) return '';
  const more = aWeekLate.missed - set.missed;
  const text = more <= 0 ? 'no further leave-open' : moreLeaveOpens(more, set.years);
  const { everyMs, afterWarningMs = null } = charging;
  const late =
    everyMs === null
      ? afterWarningMs === null
        ? ''
        : ` (${durationText(afterWarningMs + weekMs)} after the warning instead of ${durationText(afterWarningMs)})`
      : ` (every ${durationText(everyMs + weekMs)} instead of ${durationText(everyMs)})`;
  return `If each ${renewal.one} that answer.charges plans comes a week late${late}, the device misses ${text}.`;
}

/** Who ends the wait for a reset where nobody answers alerts. */
function othersCome({ answeredSilences, charges }: LivedYears, renewal: Renewal): string {
  const comes = [
    ...(answeredSilences > 0 ? ['heartbeats are missing'] : []),
    ...(charges > 0 ? [renewal.due] : []),
  ];
  return comes.length === 0 ? '' : `, so that somebody only comes when ${comes.join(' or ')}`;
}

function otherwiseText({ set, otherwise, holds, isAnswered, renewal }: YearView): string {
  const [here, there] = holds
    ? ['waits for a reset', 'goes on watching']
    : ['goes on watching', 'waits for a reset'];
  const alone =
    holds || isAnswered
      ? ''
      : ` and nobody answers an alert (answer.afterAlert is not given)${othersCome(otherwise, renewal)}`;
  const isCharged = set.charges + otherwise.charges > 0;
  const of = (lived: LivedYears): string => {
    const misses = `misses ${countedOrNo(lived.missed, 'leave-open')}`;
    const delivers = `delivers ${countedOrNo(lived.alertsDelivered, 'alert')}`;
    if (!isCharged) return `${misses} and ${delivers}`;
    return `${misses}, ${delivers} and gets ${countedOrNo(lived.charges, renewal.one)}`;
  };
  return `After an alert the device ${here}: in ${set.years === 1 ? 'this year' : 'these years'} it ${of(set)}. If it ${there}${alone}, it ${of(otherwise)}.`;
}
