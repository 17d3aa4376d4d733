// Charges, currents and lives for people: three significant digits, and never more than is known.
import { roughDurationText } from '../base/index.js';

const dayMs = 86_400_000;
const yearMs = 365.25 * dayMs;

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

/** `23 d (3.3 weeks)`, `14 months`, `6.4 years`; null is over a hundred years. */
export function lifeText(ms: number | null): string {
  if (ms === null) return 'over 100 years by these numbers';
  if (ms < 2 * dayMs) return roughDurationText(ms);
  if (ms >= 2 * yearMs) return `${(ms / yearMs).toFixed(1)} years`;
  const days = ms / dayMs;
  const text = days < 10 ? days.toFixed(1) : String(Math.round(days));
  return `${text} d (${(days / 7).toFixed(1)} weeks)`;
}

/** `12.3 %`, from parts per million; what would show as nothing is `under 0.1 %`. */
export function shareText(ppm: number): string {
  return ppm > 0 && ppm < 500 ? 'under 0.1 %' : `${(ppm / 10_000).toFixed(1)} %`;
}
