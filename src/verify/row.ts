// How a state is written down. Rows are made to be compared with those of a certificate: nothing is read out of them.
import type { StateRow } from './format.js';
import { refuse, refuseDifference } from './refusal.js';
import type { Rules } from './rules.js';
import { isPast, limited, type Spot } from './steps.js';
import { at, type Clock, clocks, type Zone } from './zone.js';

/** Clocks past all that matters are left out. */
export function rowOf(rules: Rules, spot: Spot): Omit<StateRow, 'next'> {
  const { device, phase, door, left, zone } = spot;
  const named = limited.filter((clock) => !isPast(rules, zone, clock));
  const clocks = boundsOf(zone, ['opening', ...named]);
  return { device: device.name, phase, door, left, clocks };
}

/** @throws RefusedError always: what comes next is not in the state that is named for it. */
export function refuseStray(
  rules: Rules,
  spot: Spot,
  { found, index }: { readonly found: string; readonly index: number },
): never {
  const message = 'the state named here is not the one that comes next';
  refuse(found, message, { found: index, expected: JSON.stringify(rowOf(rules, spot)) });
}

/** @throws RefusedError where a row of the certificate says something else of a state. */
export function refuseOtherRow(
  rules: Rules,
  spot: Spot,
  { row, place }: { readonly row: StateRow; readonly place: string },
): void {
  const message = 'the state that comes first here is not this one';
  refuseDifference(row, { ...rowOf(rules, spot), next: row.next }, { place, message });
}

/** The bounds of some clocks by name, `cooldown <=` or `opening - cooldown >=`: of differences those that say more. */
function boundsOf(zone: Zone, named: readonly Clock[]): Record<string, number> {
  const bounds: Record<string, number> = {};
  const indexes = named.map((clock) => clocks.indexOf(clock));
  for (const first of indexes) {
    for (const second of [0, ...indexes.filter((index) => index > first)]) {
      const name = [first, second].filter((index) => index > 0).map((index) => clocks[index]);
      const says = (row: number, column: number): boolean =>
        second === 0
          ? Number.isFinite(at(zone, row, column))
          : at(zone, row, column) < at(zone, row, 0) + at(zone, 0, column);
      if (says(first, second)) bounds[`${name.join(' - ')} <=`] = at(zone, first, second);
      if (says(second, first)) bounds[`${name.join(' - ')} >=`] = 0 - at(zone, second, first);
    }
  }
  return bounds;
}
