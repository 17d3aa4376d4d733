// Sets of clock readings as difference bounds (D. Dill, Timing assumptions and verification of finite-state
// concurrent systems, 1989): c_i − c_j ≤ bound, for every pair, on whole milliseconds. With integer bounds the
// integer points of such a set are exactly reached by adding, guarding and resetting, so nothing is lost.

/** Clocks by number; 0 is the constant zero. */
export const clock = {
  /** True time since the opening under study began; negative before it does. */
  opening: 1,
  /** True time since the first failed send of the outage; of one that is over, since its last. */
  outage: 2,
  /** True time since the first wrong reading of the chatter. */
  chatter: 3,
  /** Device time since the last delivery. */
  cooldown: 4,
  /** Device time since the last heartbeat. */
  heartbeat: 5,
} as const;

export type ClockName = keyof typeof clock;

/** What the outage's clock tells: nothing, how long one has lasted, or how long ago one ended. */
export type OutageClock = 'none' | 'active' | 'over';

/**
 * Matrix of bounds, row minus column, closed under shortest paths; never empty (an empty zone is null). A plain
 * array of doubles: the search makes millions of short-lived ones, and typed arrays are dear to make.
 */
export type Zone = readonly number[];

const size = 6;
const unbounded = Number.POSITIVE_INFINITY;
const trueClocks = [clock.opening, clock.outage, clock.chatter] as const;
const deviceClocks = [clock.cooldown, clock.heartbeat] as const;

// Made of fractions first, so that the engine keeps it and all its copies as doubles.
const zeros: readonly number[] = Array.from({ length: size * size }, () => 0.5).fill(0);

/** All clocks at zero. */
export function zeroZone(): Zone {
  return zeros.slice();
}

function cell(zone: Zone, row: number, column: number): number {
  return zone[row * size + column] ?? unbounded;
}

/** The greatest reading of a clock in the zone. */
export function greatest(zone: Zone, name: ClockName): number {
  return cell(zone, clock[name], 0);
}

/** The least reading of a clock in the zone. */
export function least(zone: Zone, name: ClockName): number {
  return 0 - cell(zone, 0, clock[name]);
}

/** Whether beside every reading of the other clocks this one can be beyond so much. */
export function canExceed(zone: Zone, name: ClockName, ms: number): boolean {
  for (let other = 0; other < size; other += 1) {
    const ahead = cell(zone, clock[name], other);
    if (other === clock[name] || ahead === unbounded) continue;
    if (ahead - cell(zone, 0, other) <= ms) return false;
  }
  return true;
}

/** The most that the opening's clock can be ahead of another. */
export function ceilingOver(zone: Zone, name: ClockName): number {
  return cell(zone, clock.opening, clock[name]);
}

/** Awake, or asleep for a part of a sleep: every clock advances by the same time, between `leastMs` and `mostMs`. */
export function advance(zone: Zone, leastMs: number, mostMs: number): Zone {
  const next = zone.slice();
  for (let index = 1; index < size; index += 1) {
    next[index * size] = cell(zone, index, 0) + mostMs;
    next[index] = cell(zone, 0, index) - leastMs;
  }
  return next;
}

/**
 * A completed sleep: true clocks advance by its true length, the device's by what the device counts for it. The two
 * groups move against each other by one amount, so the bounds stay closed.
 */
export function sleepThrough(
  zone: Zone,
  sleep: { readonly leastMs: number; readonly mostMs: number; readonly countedMs: number },
): Zone {
  const { leastMs, mostMs, countedMs } = sleep;
  if (leastMs === mostMs && leastMs === countedMs) return advance(zone, leastMs, mostMs);
  const next = zone.slice();
  for (const index of trueClocks) {
    next[index * size] = cell(zone, index, 0) + mostMs;
    next[index] = cell(zone, 0, index) - leastMs;
    for (const device of deviceClocks) {
      next[index * size + device] = cell(zone, index, device) + mostMs - countedMs;
      next[device * size + index] = cell(zone, device, index) + countedMs - leastMs;
    }
  }
  for (const device of deviceClocks) {
    next[device * size] = cell(zone, device, 0) + countedMs;
    next[device] = cell(zone, 0, device) - countedMs;
  }
  return next;
}

/** Sets clocks to zero. */
export function restart(zone: Zone, names: readonly ClockName[]): Zone {
  const next = zone.slice();
  for (const name of names) {
    const index = clock[name];
    for (let other = 0; other < size; other += 1) {
      if (other === index) continue;
      next[index * size + other] = next[other] ?? unbounded;
      next[other * size + index] = next[other * size] ?? unbounded;
    }
  }
  return next;
}

/** Sets a clock to any reading between two bounds, whatever the others read. */
export function setWithin(
  zone: Zone,
  name: ClockName,
  range: { readonly least: number; readonly most: number },
): Zone {
  const index = clock[name];
  const next = zone.slice();
  for (let other = 0; other < size; other += 1) {
    if (other === index) continue;
    next[index * size + other] = range.most + cell(zone, 0, other);
    next[other * size + index] = cell(zone, other, 0) - range.least;
  }
  return next;
}

/** Sets a clock to the reading of another. */
export function copyClock(zone: Zone, name: ClockName, from: ClockName): Zone {
  const index = clock[name];
  const source = clock[from];
  const next = zone.slice();
  for (let other = 0; other < size; other += 1) {
    if (other === index) continue;
    next[index * size + other] = cell(zone, source, other);
    next[other * size + index] = cell(zone, other, source);
  }
  return next;
}

/** Keeps the readings with `clock ≤ most`; null when there are none. */
export function atMost(zone: Zone, name: ClockName, most: number): Zone | null {
  return bounded(zone, { row: clock[name], column: 0, bound: most });
}

/** Keeps the readings with `clock ≥ least`; null when there are none. */
export function atLeast(zone: Zone, name: ClockName, value: number): Zone | null {
  return bounded(zone, { row: 0, column: clock[name], bound: 0 - value });
}

function bounded(
  zone: Zone,
  by: { readonly row: number; readonly column: number; readonly bound: number },
): Zone | null {
  const { row, column, bound } = by;
  if (cell(zone, row, column) <= bound) return zone;
  if (cell(zone, column, row) + bound < 0) return null;
  const next = zone.slice();
  next[row * size + column] = bound;
  for (let from = 0; from < size; from += 1) {
    for (let to = 0; to < size; to += 1) {
      const around = cell(zone, from, row) + bound + cell(zone, column, to);
      if (around < cell(next, from, to)) next[from * size + to] = around;
    }
  }
  return next;
}

/**
 * Adds the readings that are no better for who wants the opening's clock greatest (or least): smaller ones of it (or
 * greater), and greater ones of the chatter's, which leave less of it. Of the outage's: greater ones while it lasts,
 * smaller ones once it is over, for the next may not begin so soon; all where there is none.
 */
export function relaxed(
  zone: Zone,
  { seek, outage }: { readonly seek: 'greatest' | 'least'; readonly outage: OutageClock },
): Zone {
  const next = zone.slice();
  for (let other = 0; other < size; other += 1) {
    if (other !== clock.opening) {
      if (seek === 'greatest') next[other * size + clock.opening] = unbounded;
      else next[clock.opening * size + other] = unbounded;
    }
    if (other !== clock.chatter) next[clock.chatter * size + other] = unbounded;
  }
  for (let other = 0; other < size; other += 1) {
    if (other === clock.outage) continue;
    if (outage !== 'over') next[clock.outage * size + other] = unbounded;
    if (outage !== 'active') next[other * size + clock.outage] = next[other * size] ?? unbounded;
  }
  return next;
}

// Those in which zones of one state differ most come first.
const cellsToCompare: readonly number[] = (() => {
  const order = [clock.opening, clock.cooldown, clock.heartbeat, clock.outage, clock.chatter];
  const first = order.flatMap((index) => [index * size, index]);
  const rest = order.flatMap((row) =>
    order.filter((column) => column !== row).map((column) => row * size + column),
  );
  return [...first, ...rest];
})();

/** The cells in which zones of one state differ most. */
export const differingCells: readonly number[] = [
  clock.opening * size,
  clock.outage,
  clock.chatter,
  clock.cooldown * size,
  clock.cooldown,
  clock.heartbeat * size,
  clock.heartbeat,
  clock.opening * size + clock.outage,
  clock.opening * size + clock.chatter,
  clock.opening,
];

/** Whether every reading in `inner` is in `outer`. */
export function includes(outer: Zone, inner: Zone): boolean {
  for (const at of cellsToCompare) {
    if ((inner[at] ?? unbounded) > (outer[at] ?? unbounded)) return false;
  }
  return true;
}

/**
 * The advances between `range.least` and `range.most` of `moved` clocks that lead from a zone to a point, as far
 * as the zone's bounds tell. A clock that reads null in the point does not matter there.
 */
export function advancesTo(
  zone: Zone,
  point: readonly (number | null)[],
  moved: readonly boolean[],
  range: { readonly least: number; readonly most: number },
): { readonly least: number; readonly most: number } {
  let { least: low, most: high } = range;
  for (const [row, from] of point.entries()) {
    for (const [column, to] of point.entries()) {
      if (from === null || to === null || moved[row] === moved[column]) continue;
      const slack = cell(zone, row, column) - (from - to);
      // A moved row: reading − advance − other ≤ bound; a moved column the other way round.
      if (moved[row] === true) low = Math.max(low, 0 - slack);
      else high = Math.min(high, slack);
    }
  }
  return { least: low, most: high };
}

/** The readings of one clock that the zone allows beside those of the clocks already fixed (null: not yet). */
export function readingsFor(
  zone: Zone,
  index: number,
  fixed: readonly (number | null)[],
): { readonly least: number; readonly most: number } {
  let low = -unbounded;
  let high = unbounded;
  fixed.forEach((reading, other) => {
    if (reading === null || other === index) return;
    low = Math.max(low, reading - cell(zone, other, index));
    high = Math.min(high, cell(zone, index, other) + reading);
  });
  return { least: low, most: high };
}
