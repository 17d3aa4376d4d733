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
  /** The number of the state that holds a spot; where none does the spot is a state from now on, with the next number. */
  numberOf(spot: Spot): number;
}

export function openShelf(): Shelf {
  const rows = new Map<string, Row>();
  let states = 0;
  return {
    numberOf(spot) {
      const cells = cellsOf(spot);
      const keys = keysOf(spot);
      for (const key of keys) {
        const row = rows.get(key);
        const number = row === undefined ? undefined : holderIn(row, cells);
        if (number !== undefined) return number;
      }
      const [own = ''] = keys;
      const row = rows.get(own) ?? { numbers: [], cells: new Float64Array(0) };
      rows.set(own, row);
      append(row, states, cells);
      states += 1;
      return states - 1;
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
