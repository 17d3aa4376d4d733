// What years of use bring, in words and cells.
import { figure, numberText, type Rounded } from '../base/index.js';
import type { Estimate, Estimated, EventName } from '../estimate/index.js';

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
      return `${text(known.low, 'down')} to ${text(known.high, 'up')}`;
  }
}
