// What years of use bring, in words and cells.
import { numberText } from '../base/index.js';
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

export function percentText(share: number, rounded: Rounded = 'about'): string {
  return `${figure(share * 100, rounded)} %`;
}

/** To which side of the exact value a figure may lie. */
export type Rounded = 'about' | 'up' | 'down';

const mirrored = { about: 'about', up: 'down', down: 'up' } as const;

/** Three figures, and no more than are known; rounded to the side on which what is said of them stays true. */
export function figure(value: number, rounded: Rounded = 'about'): string {
  if (value === 0) return '0';
  // 99.999 is not 100: near the whole the distance to it is what matters.
  if (value > 99.9 && value < 100)
    return String(Number((100 - threeFigures(100 - value, mirrored[rounded])).toFixed(9)));
  const three = threeFigures(value, rounded);
  if (three >= 1_000) return numberText(three);
  return String(three).includes('e')
    ? three.toFixed(Math.min(20, 2 - Math.floor(Math.log10(three))))
    : String(three);
}

/** Less than this part of a value is the noise of a division. */
const noise = 1e-12;

function threeFigures(value: number, rounded: Rounded): number {
  const near = Number(value.toPrecision(3));
  const isBeyond = rounded === 'up' ? near < value : near > value;
  if (rounded === 'about' || !isBeyond || Math.abs(near - value) < noise * value) return near;
  const unit = 10 ** (Math.floor(Math.log10(near)) - 2);
  return Number((near + (rounded === 'up' ? unit : -unit)).toPrecision(3));
}
