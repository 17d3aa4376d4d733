// A zone: a set of readings of the clocks that a proof goes by, kept as the most by which each clock is ahead of each
// other one (D. Dill, Timing assumptions and verification of finite-state concurrent systems, 1989). All bounds are whole
// milliseconds. Every operation gives the tightest bounds of its result from the tightest bounds of what it is given.

/** Clock 0 always reads zero. The next three go with true time, the last two with the device's own clock. */
export const clocks = ['zero', 'opening', 'outage', 'chatter', 'cooldown', 'heartbeat'] as const;
export type Clock = Exclude<(typeof clocks)[number], 'zero'>;

const count = clocks.length;
const all = clocks.map((_, index) => index);
const running = all.slice(1);
const onTrueTime = [1, 2, 3];
const onDeviceTime = [4, 5];

/** Row by row: how far the row's clock is ahead of the column's at most. Never of an empty set: that is null. */
export type Zone = readonly number[];

export interface Span {
  readonly least: number;
  readonly most: number;
}

/** A sleep that runs to its end: its true length, and what the device's clock counts for it. */
export interface Sleep extends Span {
  readonly counted: number;
}

/** How far one clock is ahead of another at most, by their numbers. */
export const at = (zone: Zone, row: number, column: number): number =>
  zone[row * count + column] ?? 0;

/** Every clock reads zero. */
export const allZero: Zone = new Array<number>(count * count).fill(0);

/** What a clock may read. */
export function spanOf(zone: Zone, clock: Clock): Span {
  const index = clocks.indexOf(clock);
  return { least: 0 - at(zone, 0, index), most: at(zone, index, 0) };
}

/** Time passes for all clocks alike. */
export function passed(zone: Zone, time: Span): Zone {
  return gone(zone, running, time);
}

/** A whole sleep passes. */
export function slept(zone: Zone, { least, most, counted }: Sleep): Zone {
  return gone(gone(zone, onDeviceTime, { least: counted, most: counted }), onTrueTime, {
    least,
    most,
  });
}

/** Some clocks go on by one same time, the others stand still. */
function gone(zone: Zone, moving: readonly number[], { least, most }: Span): Zone {
  const next = [...zone];
  for (const clock of moving) {
    for (const other of all.filter((candidate) => !moving.includes(candidate))) {
      next[clock * count + other] = at(zone, clock, other) + most;
      next[other * count + clock] = at(zone, other, clock) - least;
    }
  }
  return next;
}

/** A clock is set to anything within a span, whatever the others read. */
export function set(zone: Zone, clock: Clock, { least, most }: Span): Zone {
  const next = [...zone];
  const index = clocks.indexOf(clock);
  for (const other of all.filter((candidate) => candidate !== index)) {
    next[index * count + other] = most + at(zone, 0, other);
    next[other * count + index] = at(zone, other, 0) - least;
  }
  return next;
}

/** The readings with this clock within a span; null: there are none. */
export function within(zone: Zone, clock: Clock, { least, most }: Span): Zone | null {
  const index = clocks.indexOf(clock);
  const below = cut(zone, index, 0, most);
  return below === null ? null : cut(below, 0, index, 0 - least);
}

/** The readings with one clock ahead of another by at most `bound`. */
function cut(zone: Zone, row: number, column: number, bound: number): Zone | null {
  if (at(zone, row, column) <= bound) return zone;
  if (at(zone, column, row) + bound < 0) return null;
  return zone.map((known, cell) => {
    const [from, to] = [Math.floor(cell / count), cell % count];
    return Math.min(known, at(zone, from, row) + bound + at(zone, column, to));
  });
}

/** With all readings added that have this clock further on (or further back), the others as they are. */
export function eased(zone: Zone, clock: Clock, way: 'on' | 'back'): Zone {
  const next = [...zone];
  const index = clocks.indexOf(clock);
  for (const other of all.filter((candidate) => candidate !== index)) {
    next[way === 'on' ? index * count + other : other * count + index] = Number.POSITIVE_INFINITY;
  }
  return next;
}

/** Whether `outer` has every reading of `inner`. */
export function includes(outer: Zone, inner: Zone): boolean {
  return inner.every((bound, cell) => bound <= at(outer, 0, cell));
}
