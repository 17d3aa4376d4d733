// What need not be searched: rows that others bring along, columns that a cheaper one replaces, and columns that alone
// hold some row. Taken out until nothing changes; what is left has the same least cost, less that of the columns kept.
import { itemAt } from '../../base/index.js';
import type { Column } from './problem.js';

export interface Reduced {
  /** Columns that must be chosen. */
  readonly kept: readonly number[];
  /** The rest in parts that have no row in common: each can be covered by itself. */
  readonly parts: readonly (readonly number[])[];
  /** Rows that still ask for something. */
  readonly rows: ReadonlySet<number>;
}

export function reduced(columns: readonly Column[]): Reduced {
  const rowsOf = columns.map(({ rows }) => new Set(rows));
  const live = new Set(columns.keys());
  const rows = new Set(columns.flatMap((column) => column.rows));
  const kept: number[] = [];
  const drop = (row: number): void => {
    rows.delete(row);
    for (const one of rowsOf) one.delete(row);
  };
  for (let before = -1; before !== live.size + rows.size; ) {
    before = live.size + rows.size;
    for (const index of live) if (itemAt(rowsOf, index).size === 0) live.delete(index);
    dropDearer(columns, rowsOf, live);
    const holders = holdersOf(rowsOf, live);
    for (const [row, those] of holders) {
      const [only] = those;
      if (those.size !== 1 || only === undefined || !live.delete(only)) continue;
      kept.push(only);
      for (const shown of [...itemAt(rowsOf, only)]) drop(shown);
      rows.delete(row);
    }
    for (const row of broughtAlong(holdersOf(rowsOf, live))) drop(row);
  }
  return { kept, parts: partsOf(rowsOf, live), rows };
}

/** Columns all of whose rows another holds that costs no more. */
function dropDearer(
  columns: readonly Column[],
  rowsOf: readonly ReadonlySet<number>[],
  live: Set<number>,
): void {
  const cost = (index: number): number => itemAt(columns, index).cost;
  const cheapest = [...live].sort((a, b) => cost(a) - cost(b) || b - a);
  const holders = holdersOf(rowsOf, live);
  for (const index of cheapest.toReversed()) {
    const rows = itemAt(rowsOf, index);
    const rarest = rarestOf(rows, holders);
    if (rarest === null) continue;
    const better = [...(holders.get(rarest) ?? [])].some(
      (other) =>
        other !== index &&
        live.has(other) &&
        cost(other) <= cost(index) &&
        isWithin(rows, itemAt(rowsOf, other)),
    );
    if (better) live.delete(index);
  }
}

function isWithin(some: ReadonlySet<number>, all: ReadonlySet<number>): boolean {
  if (some.size > all.size) return false;
  for (const one of some) if (!all.has(one)) return false;
  return true;
}

function rarestOf(
  rows: ReadonlySet<number>,
  holders: ReadonlyMap<number, ReadonlySet<number>>,
): number | null {
  let rarest: number | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  for (const row of rows) {
    const count = holders.get(row)?.size ?? 0;
    if (count >= fewest) continue;
    fewest = count;
    rarest = row;
  }
  return rarest;
}

function holdersOf(
  rowsOf: readonly ReadonlySet<number>[],
  live: ReadonlySet<number>,
): Map<number, Set<number>> {
  const holders = new Map<number, Set<number>>();
  for (const index of live) {
    for (const row of itemAt(rowsOf, index)) {
      const known = holders.get(row) ?? new Set();
      known.add(index);
      holders.set(row, known);
    }
  }
  return holders;
}

/** Rows that are held whenever some other row is. */
function broughtAlong(holders: ReadonlyMap<number, ReadonlySet<number>>): readonly number[] {
  const gone = new Set<number>();
  for (const [row, those] of holders) {
    for (const [other, fewer] of holders) {
      if (other === row || gone.has(other) || fewer.size > those.size) continue;
      if (!isWithin(fewer, those)) continue;
      gone.add(row);
      break;
    }
  }
  return [...gone];
}

function partsOf(
  rowsOf: readonly ReadonlySet<number>[],
  live: ReadonlySet<number>,
): readonly (readonly number[])[] {
  const holders = holdersOf(rowsOf, live);
  const left = new Set(live);
  const parts: number[][] = [];
  for (const first of live) {
    if (!left.delete(first)) continue;
    const part = [first];
    for (const index of part) {
      for (const row of itemAt(rowsOf, index)) {
        for (const other of holders.get(row) ?? []) if (left.delete(other)) part.push(other);
      }
    }
    parts.push(part);
  }
  return parts;
}
