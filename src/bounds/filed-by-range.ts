// Things filed by a range of readings, so that those around or within another range are found without looking at all:
// ranges about as long are filed together, in cells as long as they are, so that each reaches over two cells at most.

/** Readings from one to another, both included. */
export interface ReadingRange {
  readonly from: number;
  readonly to: number;
}

export interface FiledByRange<T> {
  file(range: ReadingRange, item: T): void;
  /** Lists, each in the order of filing, that hold all whose range is around this one, and others. */
  around(range: ReadingRange): Iterable<T[]>;
  /** Lists that hold all whose range is within this one, and others. */
  within(range: ReadingRange): Iterable<T[]>;
}

/** No cell is shorter: ranges of real watches begin further apart than that. */
const leastCellMs = 500;

/** Ranges longer than half of `cellMs` and no longer than it; on the first shelf also shorter ones. */
interface Shelf<T> {
  readonly cellMs: number;
  readonly reaching: Map<number, T[]>;
  readonly beginning: Map<number, T[]>;
}

export function nothingFiled<T>(): FiledByRange<T> {
  /** The shortest first; each has cells twice as long as the one before. */
  const shelves: Shelf<T>[] = [];
  const endless: T[] = [];
  return {
    file(range, item) {
      if (!isBounded(range)) {
        endless.push(item);
        return;
      }
      const { cellMs, reaching, beginning } = shelfFor(shelves, range);
      const { first, last } = cellsOf(range, cellMs);
      listIn(beginning, first).push(item);
      for (let cell = first; cell <= last; cell += 1) listIn(reaching, cell).push(item);
    },
    *around(range) {
      yield endless;
      if (!isBounded(range)) return;
      for (const { cellMs, reaching } of shelves) {
        if (cellMs < lengthOf(range)) continue;
        const list = reaching.get(cellsOf(range, cellMs).first);
        if (list !== undefined) yield list;
      }
    },
    *within(range) {
      if (!isBounded(range)) yield endless;
      for (const shelf of shelves) {
        yield* beginningIn(shelf, range);
        if (shelf.cellMs >= lengthOf(range)) return;
      }
    },
  };
}

function lengthOf({ from, to }: ReadingRange): number {
  return to - from;
}

function isBounded(range: ReadingRange): boolean {
  return Number.isFinite(lengthOf(range));
}

/** The cells in which a range begins and ends. */
function cellsOf({ from, to }: ReadingRange, cellMs: number) {
  return { first: Math.floor(from / cellMs), last: Math.floor(to / cellMs) };
}

/** The shelf with the shortest cells that are as long as a range; it is made, and all before it, where it is not there yet. */
function shelfFor<T>(shelves: Shelf<T>[], range: ReadingRange): Shelf<T> {
  for (let index = 0; ; index += 1) {
    const shelf = (shelves[index] ??= {
      cellMs: leastCellMs * 2 ** index,
      reaching: new Map(),
      beginning: new Map(),
    });
    if (shelf.cellMs >= lengthOf(range)) return shelf;
  }
}

/** What begins in the cells of a shelf that a range reaches over. */
function* beginningIn<T>({ cellMs, beginning }: Shelf<T>, range: ReadingRange): Generator<T[]> {
  const { first, last } = cellsOf(range, cellMs);
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
