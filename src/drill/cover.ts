// Covering at the least cost: each row must be in a chosen column. Rows are what must be shown, columns are steps. The command
// line loads a solver and passes it in.

export interface Column {
  /** A whole number above 0. */
  readonly cost: number;
  readonly rows: readonly number[];
}

export interface Cover {
  /** Ascending. */
  readonly chosen: readonly number[];
  readonly cost: number;
  /** Proved: no cover costs less. Where it is `cost`, the cover is the cheapest. */
  readonly atLeast: number;
}

/** The same columns always give the same cover. Rows that no column holds ask for nothing. */
export type LeastCover = (columns: readonly Column[]) => Cover;
