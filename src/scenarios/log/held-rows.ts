// Rows of a log whose newest row comes first: kept in columns, and taken from the last to the first at its end.
import { growingColumn } from './column-store.js';

/** The instants of a local time that occurs twice. */
export interface TwoReadings {
  readonly earlierMs: number;
  readonly laterMs: number;
}

type Cell = number | TwoReadings;

export interface HeldRows {
  push(first: Cell, second: Cell, line: number): void;
  fromLast(take: (first: Cell, second: Cell, line: number) => void): void;
}

export function heldRows(): HeldRows {
  const lines = growingColumn();
  const early = [growingColumn(), growingColumn()] as const;
  const late = [growingColumn(), growingColumn()] as const;
  const put = (field: 0 | 1, cell: Cell): void => {
    early[field].push(typeof cell === 'number' ? cell : cell.earlierMs);
    late[field].push(typeof cell === 'number' ? Number.NaN : cell.laterMs);
  };
  const cellAt = (field: 0 | 1, index: number): Cell => {
    const earlierMs = early[field].values()[index] ?? Number.NaN;
    const laterMs = late[field].values()[index] ?? Number.NaN;
    return Number.isNaN(laterMs) ? earlierMs : { earlierMs, laterMs };
  };
  return {
    push(first, second, line) {
      lines.push(line);
      put(0, first);
      put(1, second);
    },
    fromLast(take) {
      for (let index = lines.length - 1; index >= 0; index -= 1) {
        take(cellAt(0, index), cellAt(1, index), lines.values()[index] ?? 0);
      }
    },
  };
}
