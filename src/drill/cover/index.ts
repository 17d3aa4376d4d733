// The cheapest choice of columns that holds every row, with the proof that there is none cheaper, or how near it is. It
// refuses to know what rows and columns are.
import { itemAt, pushAll } from '../../base/index.js';
import { type Column, costOf, problemOf } from './problem.js';
import { reduced } from './reduce.js';
import { search } from './search.js';

export type { Column } from './problem.js';

export interface Cover {
  /** Ascending. */
  readonly chosen: readonly number[];
  readonly cost: number;
  /** Proved: no cover costs less. Where it is `cost`, the cover is the cheapest. */
  readonly atLeast: number;
}

/**
 * Rows that no column holds ask for nothing. Yields now and then, with the share of the work allowed that is done.
 * @param mostNodes of the search, in all parts together.
 */
export function* leastCover(
  columns: readonly Column[],
  mostNodes: number,
): Generator<number, Cover> {
  const { kept, parts, rows } = reduced(columns);
  const chosen = [...kept];
  let atLeast = kept.reduce((sum, index) => sum + itemAt(columns, index).cost, 0);
  let nodes = 0;
  // Small parts first, so that the work left for a large one is known.
  for (const part of parts.toSorted((a, b) => a.length - b.length)) {
    const numbers = new Map<number, number>();
    const within = part.map((index) => {
      const column = itemAt(columns, index);
      const left = column.rows.filter((row) => rows.has(row));
      for (const row of left) if (!numbers.has(row)) numbers.set(row, numbers.size);
      return { cost: column.cost, rows: left.map((row) => numbers.get(row) ?? 0) };
    });
    const steps = search(problemOf(within, numbers.size), mostNodes - nodes);
    let step = steps.next();
    for (; step.done !== true; step = steps.next()) yield (nodes + step.value) / mostNodes;
    nodes += step.value.nodes;
    atLeast += step.value.atLeast;
    pushAll(
      chosen,
      step.value.chosen.map((index) => itemAt(part, index)),
    );
  }
  chosen.sort((a, b) => a - b);
  return { chosen, cost: costOf({ columns, holders: [] }, chosen), atLeast };
}
