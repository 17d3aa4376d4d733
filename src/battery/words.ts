// Charges, currents and lives for people: three significant digits, and never more than is known.
import { dayMs, meanYearMs, roughDurationText, tenthsText } from '../base/index.js';

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

/** So many whole tenths of a unit. */
function tenths(ms: number, unitMs: number): string {
  return (Math.floor((ms * 10) / unitMs) / 10).toFixed(1);
}

/** From parts per million. */
export function shareText(ppm: number): string {
  return tenthsText(ppm / 10_000);
}
