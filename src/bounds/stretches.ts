// Things filed by a stretch of readings, so that those around or within another stretch are found without looking at all:
// stretches about as long are filed together, in cells as long as they are, so that each reaches over two cells at most.

/** Readings from one to another, both included. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface Stretches<T> {
  file(stretch: Stretch, item: T): void;
  /** Lists, each in the order of filing, that hold all whose stretch is around this one, and others. */
  around(stretch: Stretch): Iterable<T[]>;
  /** Lists that hold all whose stretch is within this one, and others. */
  within(stretch: Stretch): Iterable<T[]>;
}

/** No cell is shorter: stretches of real watches begin further apart than that. */
const leastCellMs = 500;

/** Stretches longer than half of `cellMs` and no longer than it; the last holds those without an end. */
interface Shelf<T> {
  readonly cellMs: number;
  readonly reaching: Map<number, T[]>;
  readonly beginning: Map<number, T[]>;
}

export function emptyStretches<T>(): Stretches<T> {
  /** The shortest first; each has cells twice as long as the one before. */
  const shelves: Shelf<T>[] = [];
  const endless: T[] = [];
  return {
    file(stretch, item) {
      if (!isBounded(stretch)) {
        endless.push(item);
        return;
      }
      const { cellMs, reaching, beginning } = shelfFor(shelves, stretch);
      const { first, last } = cellsOf(stretch, cellMs);
      listIn(beginning, first).push(item);
      for (let cell = first; cell <= last; cell += 1) listIn(reaching, cell).push(item);
    },
    *around(stretch) {
      yield endless;
      if (!isBounded(stretch)) return;
      for (const { cellMs, reaching } of shelves) {
        if (cellMs < lengthOf(stretch)) continue;
        const list = reaching.get(cellsOf(stretch, cellMs).first);
        if (list !== undefined) yield list;
      }
    },
    *within(stretch) {
      if (!isBounded(stretch)) yield endless;
      for (const shelf of shelves) {
        yield* beginningIn(shelf, stretch);
        if (shelf.cellMs >= lengthOf(stretch)) return;
      }
    },
  };
}

function lengthOf({ from, to }: Stretch): number {
  return to - from;
}

function isBounded(stretch: Stretch): boolean {
  return Number.isFinite(lengthOf(stretch));
}

/** The cells in which a stretch begins and ends. */
function cellsOf({ from, to }: Stretch, cellMs: number) {
  return { first: Math.floor(from / cellMs), last: Math.floor(to / cellMs) };
}

/** The shelf with the shortest cells that are as long as a stretch; it is made, and all before it, where it is not there yet. */
function shelfFor<T>(shelves: Shelf<T>[], stretch: Stretch): Shelf<T> {
  for (let index = 0; ; index += 1) {
    const shelf = (shelves[index] ??= {
      cellMs: leastCellMs * 2 ** index,
      reaching: new Map(),
      beginning: new Map(),
    });
    if (shelf.cellMs >= lengthOf(stretch)) return shelf;
  }
}

/** What begins in the cells of a shelf that a stretch reaches over. */
function* beginningIn<T>({ cellMs, beginning }: Shelf<T>, stretch: Stretch): Generator<T[]> {
  const { first, last } = cellsOf(stretch, cellMs);
  if (last - first > beginning.size) {
    for (const [cell, list] of beginning) if (first <= cell && cell <= last) yield list;
    return;
  }
  for (let cell = first; cell <= last; cell += 1) {
    const list = beginning.get(cell);
    if (list !== undefined) yield list;
  }
}

function listIn<T>(lists: Map<number, T[]>, cell: number): T[] {
  const known = lists.get(cell);
  if (known !== undefined) return known;
  const list: T[] = [];
  lists.set(cell, list);
  return list;
}
