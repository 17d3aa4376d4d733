// The states of a certificate, to be asked which of them is the first to hold what a device may come to.
import type { StateRow } from './format.js';
import {
  ahead,
  allZero,
  clockNames,
  clocks,
  holds,
  least,
  most,
  type Readings,
  zeroed,
} from './readings.js';
import type { Situations } from './situations.js';
import { activeClocks, idleClocks, type Spot } from './spot.js';

/** States in the order of a proof. */
export interface States {
  readonly list: readonly Spot[];
  /**
   * Index of the first state that holds a spot; −1: none does.
   * @param likely ascending indexes of states that may well hold it: they spare looking at all behind them.
   */
  holding(spot: Spot, likely: readonly number[]): number;
  add(spot: Spot): void;
}

const names = clockNames.slice(1);

/** The bounds of a set of readings by name, for the clocks that matter; what is not bounded is not named. */
function namedBounds(readings: Readings, active: readonly number[]): Record<string, number> {
  const named: Record<string, number> = {};
  const note = (name: string, bound: number): void => {
    if (Number.isFinite(bound)) named[name] = bound;
  };
  for (const row of active) {
    for (const column of active) {
      const pair = pairName(row, column);
      if (pair === null) continue;
      note(`${pair} <=`, ahead(readings, row, column));
      note(`${pair} >=`, 0 - ahead(readings, column, row));
    }
  }
  return named;
}

/** `cooldown`, `opening - cooldown`; null for the pairs that are named the other way round. */
function pairName(row: number, column: number): string | null {
  const [first, second] = [names[row - 1], names[column - 1]];
  if (first === undefined) return null;
  if (second === undefined) return first;
  return row < column ? `${first} - ${second}` : null;
}

function readingsOf(named: Readonly<Record<string, number>>, active: readonly number[]): Readings {
  const readings = allZero();
  for (const row of active) {
    for (const column of active) {
      const pair = pairName(row, column);
      if (pair === null) continue;
      readings[row * clocks + column] = named[`${pair} <=`] ?? Number.POSITIVE_INFINITY;
      readings[column * clocks + row] = 0 - (named[`${pair} >=`] ?? Number.NEGATIVE_INFINITY);
    }
  }
  return zeroed(readings, idleClocks(active));
}

/** No state yet. */
export function noStates(situations: Situations): States {
  const buckets = new Map<string, number[]>();
  const list: Spot[] = [];
  const firstOf = (
    indexes: readonly number[],
    of: { readonly spot: Spot; readonly active: readonly number[] },
    before: number,
  ): number => {
    for (const index of indexes) {
      if (index >= before) break;
      const state = list[index];
      if (state !== undefined && covers(state, of.spot, of.active)) return index;
    }
    return before;
  };
  return {
    list,
    holding(spot, likely) {
      const situation = situations.indexOf(spot);
      const of = { spot, active: activeClocks(spot) };
      const alike = likely.filter((index) => isAlike(list[index], spot));
      let first = firstOf(alike, of, list.length);
      for (const key of keysOf(spot, situation)) first = firstOf(buckets.get(key) ?? [], of, first);
      return first < list.length ? first : -1;
    },
    add(spot) {
      const [key = ''] = keysOf(spot, situations.indexOf(spot));
      const bucket = buckets.get(key);
      if (bucket === undefined) buckets.set(key, [list.length]);
      else bucket.push(list.length);
      list.push(spot);
    },
  };
}

/** How a spot is written down. */
export function rowOf(spot: Spot, situations: Situations): Omit<StateRow, 'next'> {
  return {
    situation: situations.indexOf(spot),
    phase: spot.phase,
    alerted: spot.alerted,
    outage: spot.outage,
    chatter: spot.chatter,
    lossesLeft: spot.lossesLeft,
    resetsLeft: spot.resetsLeft,
    clocks: namedBounds(spot.readings, activeClocks(spot)),
  };
}

/** What a row stands for; undefined: there is no such situation. */
export function spotOf(row: StateRow, situations: Situations): Spot | undefined {
  const { phase, alerted, outage, chatter, lossesLeft, resetsLeft, clocks: named } = row;
  const cooled = !Object.hasOwn(named, 'cooldown >=');
  const due = !Object.hasOwn(named, 'heartbeat >=');
  const situation = situations.spotOf(row.situation);
  if (situation === undefined) return undefined;
  const { state, then, contact } = situation;
  const readings = readingsOf(named, activeClocks({ phase, outage, chatter, cooled, due }));
  // Written out: objects put together from several are slow to compare.
  return {
    state,
    then,
    contact,
    phase,
    alerted,
    cooled,
    due,
    outage,
    chatter,
    lossesLeft,
    resetsLeft,
    readings,
  };
}

/** Whether two spots differ in their clocks and faults alone. */
function isAlike(one: Spot | undefined, other: Spot): boolean {
  return (
    one?.state === other.state &&
    one.then === other.then &&
    one.contact === other.contact &&
    one.phase === other.phase &&
    one.alerted === other.alerted &&
    one.cooled === other.cooled &&
    one.due === other.due
  );
}

/** Whatever the environment can do with less left to go wrong, it can do with more. */
function covers(state: Spot, spot: Spot, active: readonly number[]): boolean {
  return (
    (state.outage === spot.outage || (state.outage === 'unused' && spot.outage === 'spent')) &&
    (state.chatter === spot.chatter || (state.chatter === 'unused' && spot.chatter === 'spent')) &&
    state.lossesLeft >= spot.lossesLeft &&
    state.resetsLeft >= spot.resetsLeft &&
    holds(state.readings, spot.readings, active)
  );
}

/** Where to look for states that may hold a spot; the first key is where a state of just these readings is kept. */
function keysOf(spot: Spot, situation: number): readonly string[] {
  const { phase, alerted, cooled, due, readings } = spot;
  const start = [situation, phase, alerted, cooled, due].map(String).join(' ');
  const single = (['cooldown', 'heartbeat'] as const).map((name) =>
    most(readings, name) === least(readings, name) ? String(most(readings, name)) : '*',
  );
  const [cooldown = '*', heartbeat = '*'] = single;
  const keys = [
    [cooldown, heartbeat],
    ['*', heartbeat],
    [cooldown, '*'],
    ['*', '*'],
  ].map((readable) => [start, ...readable].join(' '));
  return [...new Set(keys)];
}
