// Numbered states, found again by what they hold. A state holds another of the same device, phase and door when it allows
// no less in any cell: how far each clock may be ahead of each other one, and the faults that may still begin.
import { invariant } from '../../base/index.js';
import { type Spot, spanOf } from '../../verify/index.js';
import { type FiledByRange, nothingFiled, type ReadingRange } from '../filed-by-range.js';

/** States with one key, cell after cell, each by its place in the row. */
interface Row {
  readonly numbers: number[];
  cells: Float64Array;
  readonly places: FiledByRange<number[]>;
}

/** Where a state may stand, and what it is filed by there: a clock that may have several readings. */
interface Place {
  readonly key: string;
  readonly range: ReadingRange;
}

export interface Shelf {
  /** The number of the state that holds a spot; where none does the spot is a state from now on, with the next number. */
  numberOf(spot: Spot): number;
}

export function openShelf(): Shelf {
  const rows = new Map<string, Row>();
  let states = 0;
  return {
    numberOf(spot) {
      const cells = cellsOf(spot);
      const places = placesOf(spot);
      for (const { key, range } of places) {
        const row = rows.get(key);
        const number = row === undefined ? undefined : holderIn(row, cells, range);
        if (number !== undefined) return number;
      }
      const [own] = places;
      invariant(own !== undefined, 'a state has its own place');
      const row = rows.get(own.key) ?? emptyRow();
      rows.set(own.key, row);
      const place = row.numbers.length;
      row.places.file(own.range, (list) => list.push(place));
      append(row, states, cells);
      states += 1;
      return states - 1;
    },
  };
}

function emptyRow(): Row {
  return { numbers: [], cells: new Float64Array(0), places: nothingFiled<number[]>(() => []) };
}

/** The first state of a row that allows all this. */
function holderIn(
  { numbers, cells, places }: Row,
  asked: readonly number[],
  range: ReadingRange,
): number | undefined {
  const width = asked.length;
  const allows = (place: number): boolean => {
    const base = place * width;
    let cell = 0;
    while (cell < width && (cells[base + cell] ?? 0) >= (asked[cell] ?? 0)) cell += 1;
    return cell === width;
  };
  let first = numbers.length;
  for (const list of places.around(range)) {
    for (const place of list) {
      if (place >= first) break;
      if (allows(place)) first = place;
    }
  }
  return numbers[first];
}

function append(row: Row, number: number, cells: readonly number[]): void {
  const used = row.numbers.length * cells.length;
  if (used === row.cells.length) {
    const longer = new Float64Array(Math.max(2 * used, cells.length));
    longer.set(row.cells);
    row.cells = longer;
  }
  invariant(used + cells.length <= row.cells.length, 'every state of a row has as many cells');
  row.cells.set(cells, used);
  row.numbers.push(number);
}

/** Those first in which states differ most. */
function cellsOf({ left, zone }: Spot): readonly number[] {
  const cooldown = spanOf(zone, 'cooldown');
  const ahead = [cooldown.most, 0 - cooldown.least, spanOf(zone, 'opening').most];
  return [...ahead, left.outage, left.chatter, left.powerLoss, left.reset, ...zone];
}

/** Where states may stand that hold a spot; first, where it stands itself. A clock with one reading is looked up by it. */
function placesOf({ device, phase, door, zone }: Spot): readonly Place[] {
  const start = [device.name, phase, door].join();
  const along = (clock: 'cooldown' | 'heartbeat') => {
    const { least, most } = spanOf(zone, clock);
    const range: ReadingRange = { from: least, to: most };
    return { range, keys: least === most ? [String(least), '*'] : ['*'] };
  };
  const [cooldown, heartbeat] = [along('cooldown'), along('heartbeat')];
  return cooldown.keys.flatMap((one) =>
    heartbeat.keys.map((other) => {
      const filedBy = other === '*' ? heartbeat : cooldown;
      return { key: [start, one, other].join(), range: filedBy.range };
    }),
  );
}
