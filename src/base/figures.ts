// Figures and per cents for people: every form in which a share is printed.
import { numberText } from './plain.js';

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
    ? three.toFixed(Math.min(20, 2 - exponentOf(three)))
    : String(three);
}

/** Less than this part of a value is the noise of a division. */
const noise = 1e-12;

function threeFigures(value: number, rounded: Rounded): number {
  const near = Number(value.toPrecision(3));
  const isBeyond = rounded === 'up' ? near < value : near > value;
  if (rounded === 'about' || !isBeyond || Math.abs(near - value) < noise * value) return near;
  const unit = 10 ** (exponentOf(near) - 2);
  return Number((near + (rounded === 'up' ? unit : -unit)).toPrecision(3));
}

/** Of the power of ten at or below a value. */
function exponentOf(value: number): number {
  return Number(value.toExponential().split('e')[1]);
}

/** A share that was counted or estimated, in three figures: `3.25 %`. */
export function percentText(share: number, rounded: Rounded = 'about'): string {
  return `${figure(share * 100, rounded)} %`;
}

/**
 * A share in tenths of a per cent, so that it and the rest of the whole, rounded to the other side, make 100 %: `8.4 %` beside
 * `91.6 %`. Nearer to 0 or 1 in three figures.
 */
export function sideText(share: number, rounded: Rounded): string {
  const percent = 100 * share;
  if (percent < 0.1 || percent > 99.9) return percentText(share, rounded);
  const tenths = Number((10 * percent).toFixed(6));
  const round = { up: Math.ceil, down: Math.floor, about: Math.round }[rounded];
  return `${String(round(tenths) / 10)} %`;
}

/** A share that somebody set, in parts per million and in full: `0.5 %`, `−2 %`. */
export function ppmText(ppm: number): string {
  return percentSign(String(ppm / 10_000));
}

/** A share that was measured: `−0.25 %`, or to a part per million, `−0.2513 %`. */
export function measuredPercentText(
  ppm: number,
  digits: 2 | 4,
  round: (steps: number) => number = Math.round,
): string {
  const stepPpm = digits === 4 ? 1 : 100;
  // Without a negative nought.
  const rounded = round(ppm / stepPpm) * stepPpm + 0;
  return percentSign((rounded / 10_000).toFixed(digits));
}

/** A share of a whole that is divided up: `12.3 %`; what would read as nothing or as all, and is not: `under 0.1 %`. */
export function tenthsText(percent: number, [under, over] = ['under ', 'over ']): string {
  if (percent > 0 && percent < 0.05) return `${under}0.1 %`;
  if (percent >= 99.95 && percent < 100) return `${over}99.9 %`;
  return percentSign(percent.toFixed(1));
}

/** A probability: whole per cents in the middle, tenths near the ends, and the ends only if they are exact. */
export function chanceText(share: number): string {
  if (share === 0) return '0 %';
  if (share < 0.0005) return 'less than 0.05 %';
  if (share > 0.9995) return 'more than 99.95 %';
  const isMiddle = share >= 0.1 && share <= 0.9;
  return percentSign((share * 100).toFixed(isMiddle ? 0 : 1));
}

function percentSign(number: string): string {
  return `${number.replace('-', '−')} %`;
}

/** `4.07 V`, from millivolts. @param decimals 3 where it is compared with a voltage that somebody sets. */
export function voltageText(mv: number, decimals: 2 | 3 = 2): string {
  return `${(mv / 1_000).toFixed(decimals)} V`;
}
