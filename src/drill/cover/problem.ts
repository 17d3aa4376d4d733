// Covering at the least cost: each row must be in a chosen column. Rows are what must be shown, columns are steps.
import { itemAt } from '../../base/index.js';

export interface Column {
  /** A whole number above 0. */
  readonly cost: number;
  readonly rows: readonly number[];
}

export interface Problem {
  readonly columns: readonly Column[];
  /** For each row the columns that hold it. */
  readonly holders: readonly (readonly number[])[];
}

/** @param rowCount rows that no column holds are left out of account. */
export function problemOf(columns: readonly Column[], rowCount: number): Problem {
  const holders: number[][] = Array.from({ length: rowCount }, () => []);
  for (const [index, { rows }] of columns.entries()) {
    for (const row of rows) itemAt(holders, row).push(index);
  }
  return { columns, holders };
}

export function costOf({ columns }: Problem, chosen: readonly number[]): number {
  return chosen.reduce((sum, index) => sum + itemAt(columns, index).cost, 0);
}

/** The chosen without those that the others make superfluous, the dearest looked at first. */
export function withoutIdle(
  { columns, holders }: Problem,
  chosen: readonly number[],
): readonly number[] {
  const times = new Int32Array(holders.length);
  for (const index of chosen) {
    for (const row of itemAt(columns, index).rows) times[row] = (times[row] ?? 0) + 1;
  }
  const dearest = [...chosen].sort(
    (a, b) => itemAt(columns, b).cost - itemAt(columns, a).cost || a - b,
  );
  return dearest.filter((index) => {
    const { rows } = itemAt(columns, index);
    if (rows.some((row) => times[row] === 1)) return true;
    for (const row of rows) times[row] = (times[row] ?? 0) - 1;
    return false;
  });
}
