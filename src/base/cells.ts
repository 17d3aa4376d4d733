// Reading a cell that must be there. A missing one is our own mistake: it throws, and never reads as a silent zero.
import { InvariantError } from './invariant.js';

function missing(index: number, length: number): InvariantError {
  return new InvariantError('there is such a cell', { index, length });
}

/** @throws InvariantError when the column has no such cell. */
export function cellAt(column: Float64Array, index: number): number {
  const value = column[index];
  if (value === undefined) throw missing(index, column.length);
  return value;
}

/** @throws InvariantError when the list has no such item. */
export function itemAt<T>(list: readonly T[], index: number): T {
  const item = list[index];
  if (item === undefined) throw missing(index, list.length);
  return item;
}
