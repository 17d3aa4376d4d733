// Things filed by a range of readings, so that those around or within another range are found without looking at all:
// ranges about as long are filed together, in cells as long as they are, so that each reaches over two cells at most.

/** Readings from one to another, both included. */
export interface ReadingRange {
  readonly from: number;
  readonly to: number;
}

export interface FiledByRange<List> {
  /** Puts something on each list that has a place for its range. */
  file(range: ReadingRange, putOn: (list: List) => unknown): void;
  /** Lists, each in the order of filing, that hold all whose range is around this one, and others. */
  around(range: ReadingRange): Iterable<List>;
  /** Lists that hold all whose range is within this one, and others. */
  within(range: ReadingRange): Iterable<List>;
}

/** No cell is shorter: ranges of real watches begin further apart than that. */
const leastCellMs = 500;

/** Ranges longer than half of `cellMs` and no longer than it; on the first shelf also shorter ones. */
interface Shelf<List> {
  readonly cellMs: number;
  readonly reaching: Map<number, List>;
  readonly beginning: Map<number, List>;
}

/** @param emptyList makes the lists. */
export function nothingFiled<List>(emptyList: () => List): FiledByRange<List> {
  /** The shortest first; each has cells twice as long as the one before. */
  const shelves: Shelf<List>[] = [];
  const endless = emptyList();
  const listIn = (lists: Map<number, List>, cell: number): List => {
    const known = lists.get(cell);
    if (known !== undefined) return known;
    const list = emptyList();
    lists.set(cell, list);
    return list;
  };
  return {
    file(range, putOn) {
      if (!isBounded(range)) {
        putOn(endless);
        return;
      }
      const { cellMs, reaching, beginning } = shelfFor(shelves, range);
      const { first, last } = cellsOf(range, cellMs);
      putOn(listIn(beginning, first));
      for (let cell = first; cell <= last; cell += 1) putOn(listIn(reaching, cell));
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
function shelfFor<List>(shelves: Shelf<List>[], range: ReadingRange): Shelf<List> {
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
function* beginningIn<List>(
  { cellMs, beginning }: Shelf<List>,
  range: ReadingRange,
): Generator<List> {
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
