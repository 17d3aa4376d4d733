// What years of use bring, in words and cells.
import { numberText } from '../base/index.js';
import type { Estimate, Estimated, EventName } from '../estimate/index.js';

export const rateWords: Readonly<Record<EventName, string>> = {
  missed: 'leave-opens MISSED',
  late: 'told late',
  falseAlarms: 'FALSE ALARMS',
  earlyAlerts: 'early alerts',
  repeats: 'repeated alerts',
};

export const rateOrder = ['missed', 'late', 'falseAlarms', 'earlyAlerts', 'repeats'] as const;

/** Of each kind of event: its name, how many a year, how sure that is, and how many were seen. */
export function rateRows(
  estimate: Estimate,
  { reportWithinMs }: { readonly reportWithinMs: number | null },
): readonly (readonly string[])[] {
  return rateOrder
    .filter((name) => name !== 'late' || reportWithinMs !== null)
    .map((name) => {
      const rate = estimate.rates[name];
      const mean = rate.count === 0 ? 'none seen' : figure(rate.perYear);
      return [rateWords[name], mean, knownText(rate, figure), numberText(rate.count)];
    });
}

/** The interval, or the bound where an end of the scale was seen. */
export function knownText(known: Estimated, text: (value: number) => string): string {
  switch (known.kind) {
    case 'at-most':
      return `at most ${text(known.high)}`;
    case 'at-least':
      return `at least ${text(known.low)}`;
    case 'interval':
      return `${text(known.low)} to ${text(known.high)}`;
  }
}

export function percentText(share: number): string {
  return `${figure(share * 100)} %`;
}

/** Three figures, and no more than are known. */
export function figure(value: number): string {
  if (value >= 1_000) return numberText(Math.round(value));
  if (value === 0) return '0';
  // 99.999 is not 100: near the whole the distance to it is what matters.
  if (value > 99.9 && value < 100)
    return String(Number((100 - Number((100 - value).toPrecision(3))).toFixed(9)));
  const text = value.toPrecision(3);
  return text.includes('e')
    ? value.toFixed(Math.min(20, 2 - Math.floor(Math.log10(value))))
    : String(Number(text));
}
