// The night the clocks go back: local times that occur twice, of which the earlier reading was taken though the later one fits
// as well. A few rows a year.
import { growingColumn } from './column-store.js';

export interface DoubledTime {
  readonly atMs: number;
  readonly laterMs: number;
  readonly line: number;
}

export interface Doubles {
  /** A time that was taken at its earlier reading. */
  note(atMs: number, laterMs: number, line: number): void;
  /** A row at this instant can only be of the second of the two hours: those above it are of the first. */
  settle(atMs: number): void;
  list(): readonly DoubledTime[];
}

const twoHoursMs = 7_200_000;

export function openDoubles(): Doubles {
  const at = growingColumn();
  const later = growingColumn();
  const lines = growingColumn();
  /** All before are settled. */
  let settledMs = Number.NEGATIVE_INFINITY;
  return {
    note(atMs, laterMs, line) {
      at.push(atMs);
      later.push(laterMs);
      lines.push(line);
    },
    settle(atMs) {
      if (settledMs >= atMs) return;
      settledMs = atMs;
      // Nights are months apart: what is left of an earlier one stays.
      for (let index = at.length - 1; index >= 0; index -= 1) {
        const isOld = atMs - (at.values()[index] ?? 0) > twoHoursMs;
        if (isOld || Number.isNaN(later.values()[index])) break;
        later.values()[index] = Number.NaN;
      }
    },
    list: () =>
      Array.from(at.values(), (atMs, index) => ({
        atMs,
        laterMs: later.values()[index] ?? Number.NaN,
        line: lines.values()[index] ?? 0,
      })).filter(({ laterMs }) => !Number.isNaN(laterMs)),
  };
}
