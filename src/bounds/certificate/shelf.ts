// Numbered states, found again by what they hold. A state holds another of the same device, phase and door when it allows
// no less in any cell: how far each clock may be ahead of each other one, and the faults that may still begin.
import { invariant } from '../../base/index.js';
import { type Spot, spanOf } from '../../verify/index.js';

/** States with one key, cell after cell. */
interface Row {
  readonly numbers: number[];
  cells: Float64Array;
}

export interface Shelf {
  /** The number of the state that holds a spot; undefined: none does. */
  find(spot: Spot): number | undefined;
  put(spot: Spot, number: number): void;
}

export function openShelf(): Shelf {
  const rows = new Map<string, Row>();
  return {
    find(spot) {
      const cells = cellsOf(spot);
      for (const key of keysOf(spot)) {
        const row = rows.get(key);
        const number = row === undefined ? undefined : holderIn(row, cells);
        if (number !== undefined) return number;
      }
      return undefined;
    },
    put(spot, number) {
      const [key = ''] = keysOf(spot);
      const row = rows.get(key) ?? { numbers: [], cells: new Float64Array(0) };
      rows.set(key, row);
      append(row, number, cellsOf(spot));
    },
  };
}

/** The first state of a row that allows all this. */
function holderIn({ numbers, cells }: Row, asked: readonly number[]): number | undefined {
  const width = asked.length;
  for (let index = 0, base = 0; index < numbers.length; index += 1, base += width) {
    let cell = 0;
    while (cell < width && (cells[base + cell] ?? 0) >= (asked[cell] ?? 0)) cell += 1;
    if (cell === width) return numbers[index];
  }
  return undefined;
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
function keysOf({ device, phase, door, zone }: Spot): readonly string[] {
  const start = [device.name, phase, door].join();
  const [cooldown, heartbeat] = (['cooldown', 'heartbeat'] as const).map((clock) => {
    const { least, most } = spanOf(zone, clock);
    return least === most ? [String(least), '*'] : ['*'];
  });
  return (cooldown ?? []).flatMap((one) =>
    (heartbeat ?? []).map((other) => [start, one, other].join()),
  );
}
