// Charges, currents and lives for people: three significant digits, and never more than is known.
import { dayMs, meanYearMs, roughDurationText, sideText, tenthsText } from '../base/index.js';
import type { SupplySettings } from '../model/index.js';
import type { UseCost } from './cost.js';

/** `480 µA`, `0.73 mA`: from whole nA. */
export function currentText(nanoamperes: number): string {
  return scaled(nanoamperes, 'A');
}

/** `1.25 mAh`, `400 mAh`: from whole nAh. */
export function chargeText(nanoampereHours: number): string {
  return scaled(nanoampereHours, 'Ah');
}

function scaled(nano: number, unit: string): string {
  const size = Math.abs(nano);
  if (size < 1_000) return `${String(nano)} n${unit}`;
  if (size < 100_000) return `${digits(nano / 1_000)} µ${unit}`;
  if (size < 10_000_000_000) return `${digits(nano / 1_000_000)} m${unit}`;
  return `${digits(nano / 1_000_000_000)} ${unit}`;
}

/** Three significant digits, and no fewer than all before the point. */
function digits(value: number): string {
  return Math.abs(value) >= 100 ? String(Math.round(value)) : String(Number(value.toPrecision(3)));
}

/** `9.7 d`, `23 d (3.3 weeks)`, `6.4 years`: rounded down, and the weeks are those days. Null is over a hundred years. */
export function lifeText(ms: number | null): string {
  if (ms === null) return 'over 100 years by these numbers';
  if (ms < 2 * dayMs) return roughDurationText(ms, 'at least');
  if (ms >= 2 * meanYearMs) return `${tenths(ms, meanYearMs)} years`;
  const days = ms < 10 * dayMs ? tenths(ms, dayMs) : String(Math.floor(ms / dayMs));
  return ms < 14 * dayMs ? `${days} d` : `${days} d (${(Number(days) / 7).toFixed(1)} weeks)`;
}

/** Over what the cells may hold, or the one life of a battery that is given itself. */
export function lifeRangeText({ lifeMs, cells }: Pick<UseCost, 'lifeMs' | 'cells'>): string {
  if (cells === null) return lifeText(lifeMs);
  const { leastMs, mostMs } = cells;
  const [least, most] = [yearsOrLess(leastMs, mostMs), yearsOrLess(mostMs, mostMs)];
  return least === most ? most : `${least} to ${most}`;
}

/** One end of a range of lives: where the other is of two years or more, this one is in years as well, if it has one. */
function yearsOrLess(ms: number | null, mostMs: number | null): string {
  const inYears = ms !== null && mostMs !== null && mostMs >= 2 * meanYearMs && ms >= meanYearMs;
  return inYears ? `${tenths(ms, meanYearMs)} years` : lifeText(ms);
}

/** A share of the usable charge at which a warning comes in time, in per cent: rounded up to tenths. */
export function warningPercent(usableLeftPpm: number): string {
  return String(Math.ceil(usableLeftPpm / 1_000) / 10);
}

/** What lasts for a single life. @param cellsNah what each of the cells holds in it, which may be more or less; null: no cells are named. */
export function lastsText(cellsNah: number | null): string {
  return cellsNah === null ? 'a charge lasts' : `cells of ${chargeText(cellsNah)} last`;
}

/** Of a unit, in whole tenths. */
function tenths(ms: number, unitMs: number): string {
  return (Math.floor((ms * 10) / unitMs) / 10).toFixed(1);
}

/** What of the capacity the device can use, and what the cold takes of it: rounded down. */
export function usableText({ usablePpm, derating }: SupplySettings): string {
  const { celsius, sharePpm } = derating ?? { celsius: null, sharePpm: 1_000_000 };
  const share = sideText((usablePpm * sharePpm) / 1e12, 'down');
  return `${share} usable${celsius === null ? '' : ` at ${String(celsius)} °C`}`;
}

/** From parts per million. */
export function shareText(ppm: number): string {
  return tenthsText(ppm / 10_000);
}
