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

// A call takes its arguments on the stack: a list of some hundred thousand, spread into one, overflows it.

/** The least of any number of values; `Infinity` of none. */
export function leastOf(values: Iterable<number>): number {
  let least = Number.POSITIVE_INFINITY;
  for (const value of values) least = Math.min(least, value);
  return least;
}

/** The greatest of any number of values; `-Infinity` of none. */
export function greatestOf(values: Iterable<number>): number {
  let greatest = Number.NEGATIVE_INFINITY;
  for (const value of values) greatest = Math.max(greatest, value);
  return greatest;
}

/** Adds any number of items to the end of a list. */
export function pushAll<T>(list: T[], items: Iterable<T>): void {
  for (const item of items) list.push(item);
}
