// What checks leave behind in the device, numbered: a certificate spells each situation out once.
import type { Machine, Situation } from './machine.js';
import type { Spot } from './spot.js';

type Key = Pick<Spot, 'state' | 'then' | 'contact'>;

export interface Situations {
  readonly list: readonly Situation[];
  /** Its number; −1: it is none of them. */
  indexOf(spot: Key): number;
  /** Undefined: there is no such number. */
  spotOf(index: number): Key | undefined;
  /** Numbers a situation that is not numbered yet. */
  add(spot: Key): void;
}

/** No situation yet. */
export function noSituations(machine: Machine): Situations {
  const list: Situation[] = [];
  const spots: Key[] = [];
  const indexes = new Map<string, number>();
  const nameOf = ({ state, then, contact }: Key): string => `${String(state)} ${then} ${contact}`;
  return {
    list,
    indexOf: (spot) => indexes.get(nameOf(spot)) ?? -1,
    spotOf: (index) => spots[index],
    add({ state, then, contact }) {
      const spot = { state, then, contact };
      indexes.set(nameOf(spot), list.length);
      spots.push(spot);
      list.push(machine.situation(spot));
    },
  };
}
