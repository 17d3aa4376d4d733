// What years of use bring, in words and cells.

import { figure, numberText, percentText, type Rounded } from '../base/index.js';
import {
  type Estimate,
  type Estimated,
  type EventName,
  longerLog,
  type Rate,
} from '../estimate/index.js';
import { nobodyResets, waitsAfterLoss } from './assumptions.js';

export const rateWords: Readonly<Record<EventName, string>> = {
  missed: 'leave-opens MISSED',
  late: 'reported late',
  falseAlarms: 'FALSE ALARMS',
  earlyAlerts: 'early alerts',
  repeats: 'repeated alerts',
};

export const rateOrder = ['missed', 'late', 'falseAlarms', 'earlyAlerts', 'repeats'] as const;

/** Of each kind of event: its name, how many per year, how sure that is, and how many were seen. */
export function rateRows(
  estimate: Estimate,
  { reportWithinMs }: { readonly reportWithinMs: number | null },
): readonly (readonly string[])[] {
  return rateOrder
    .filter((name) => name !== 'late' || reportWithinMs !== null)
    .map((name) => {
      const rate = estimate.rates[name];
      const mean = rate.count === 0 ? 'none seen' : figure(rate.perYear, 'up');
      return [rateWords[name], mean, knownText(rate, figure), numberText(rate.count)];
    });
}

/** How many false alarms come for each brief opening; null: no opening was brief, or nothing was seen. */
export function falseAlarmsEach({
  openings,
  leaveOpens,
  falseAlarms,
}: Readonly<Record<'openings' | 'leaveOpens' | 'falseAlarms', number>>): number | null {
  const brief = openings - leaveOpens;
  return brief > 0 && falseAlarms > 0 ? falseAlarms / brief : null;
}

/** The interval, or the bound where an end of the scale was seen. */
export function knownText(
  known: Estimated,
  text: (value: number, rounded: Rounded) => string,
): string {
  switch (known.kind) {
    case 'at-most':
      return `at most ${text(known.high, 'up')}`;
    case 'at-least':
      return `at least ${text(known.low, 'down')}`;
    case 'interval':
      return spanText(known, text);
  }
}

/** A lower end below this, in the unit that is shown, is not shown as a figure. */
const noMore = 0.001;

/** `0.14 to 0.722`; `over 0 to 0.722` where the least is next to nothing: what was seen happens. */
export function spanText(
  { low, high }: Pick<Estimated, 'low' | 'high'>,
  text: (value: number, rounded: Rounded) => string,
): string {
  const isPercent = text === percentText;
  const isTiny = (isPercent ? 100 * low : low) < noMore;
  return `${isTiny ? `over ${text(0, 'down')}` : text(low, 'down')} to ${text(high, 'up')}`;
}

/** Less of a doubt than this is not worth a word. */
const smallDoubt = 0.1;

/** Whether a longer log would narrow the interval of a rate more than more years would: its doubt exceeds that of the years. */
export function isOpenInLog({ count, dispersion, profileSpread }: Rate): boolean {
  const ofYears = Math.sqrt(Math.max(1, dispersion ?? 1) / Math.max(1, count));
  return (profileSpread ?? 0) > Math.max(smallDoubt, ofYears);
}

/** Leave-opens missed in simulated years, and how many of them because the alerts that were delivered for them were lost. */
export interface Misses {
  readonly missed: number;
  readonly byLoss: number;
}

/** Why a watch that is sure of every leave-open at rest misses some. @param assumes what the years take for granted of people. */
export function missedOtherwise(assumes: readonly string[], misses: Misses): string {
  const { missed, byLoss } = misses;
  const rest = missed - byLoss;
  if (rest === 0) return lostText(misses);
  const finds = assumes.includes(nobodyResets)
    ? 'after its first alert the device waits for a reset, and in these years nobody resets it (answer.afterAlert changes that)'
    : `${byLoss === 0 ? 'they also have openings that find' : `in the other ${numberText(rest)} the opening finds`} the device otherwise, such as ${waitsAfterLoss(assumes) ? 'waiting for a reset after an alert that was lost, ' : ''}in a cooldown or with an alert not yet delivered`;
  return byLoss === 0 ? finds : `${lostText(misses)}; ${finds}`;
}

/** `in 31 of the 34 misses …`: lost messages, which no proof looks at. */
export function lostText({ missed, byLoss }: Misses): string {
  const all = missed === 1 ? 'the one miss' : `all ${numberText(missed)} misses`;
  const which = byLoss < missed ? `${numberText(byLoss)} of the ${numberText(missed)} misses` : all;
  return `in ${which} the device sent an alert, but nobody saw one, because each was lost after the network accepted it (delivery.lost, which bounds ignores)`;
}

/** From as many weeks on, a length is in years. */
const mostWeeks = 104;

/** `at least a week`, `about 3 weeks in all (40 openings, at the rate of this log)`: how long a log that is too short must be. */
export function longerLogText(evidence: Parameters<typeof longerLog>[0]): string {
  const { days, openings } = longerLog(evidence);
  const weeks = Math.ceil(days / 7);
  if (weeks === 1) return 'at least a week';
  const length =
    weeks > mostWeeks ? `${String(Math.ceil(days / 365))} years` : `${String(weeks)} weeks`;
  return `about ${length} in all (${String(openings)} openings, if it opens as often as in this log)`;
}
