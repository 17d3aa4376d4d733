// A zone: a set of readings of the clocks that a proof goes by, kept as the most by which each clock is ahead of each
// other one (D. Dill, Timing assumptions and verification of finite-state concurrent systems, 1989). All bounds are whole
// milliseconds. Every operation gives the tightest bounds of its result from the tightest bounds of what it is given.

/** Clock 0 always reads zero. The next four go with true time, the last three with the device's own clock. */
export const clocks = [
  ...(['zero', 'opening', 'outage', 'failed', 'chatter'] as const),
  ...(['cooldown', 'heartbeat', 'warning'] as const),
] as const;
export type Clock = Exclude<(typeof clocks)[number], 'zero'>;

const count = clocks.length;
const onTrueTime = 4;

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

const pairs = clocks.flatMap((_, row) => clocks.map((_, column) => ({ row, column })));

/** The bounds of each clock over each other one. */
export const each = (bound: (row: number, column: number) => number): Zone =>
  pairs.map(({ row, column }) => bound(row, column));

/** Every clock reads zero. */
export const allZero: Zone = each(() => 0);

/** What a clock may read. */
export function spanOf(zone: Zone, clock: Clock): Span {
  const index = clocks.indexOf(clock);
  return { least: 0 - at(zone, 0, index), most: at(zone, index, 0) };
}

/** Time passes: for all clocks alike, or a whole sleep, which the device's clocks may count otherwise. */
export function passed(zone: Zone, time: Span | Sleep): Zone {
  const still: Span = { least: 0, most: 0 };
  const counted = 'counted' in time ? { least: time.counted, most: time.counted } : time;
  const goes = (clock: number): Span => (clock === 0 ? still : clock > onTrueTime ? counted : time);
  return each((row, column) => {
    const [ahead, behind] = [goes(row), goes(column)];
    return at(zone, row, column) + (ahead === behind ? 0 : ahead.most - behind.least);
  });
}

/** A clock is set to anything within a span, whatever the others read. */
export function set(zone: Zone, clock: Clock, { least, most }: Span): Zone {
  const index = clocks.indexOf(clock);
  return each((row, column) => {
    if ((row === index) === (column === index)) return at(zone, row, column);
    return row === index ? most + at(zone, 0, column) : at(zone, row, 0) - least;
  });
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
  return each((from, to) =>
    Math.min(at(zone, from, to), at(zone, from, row) + bound + at(zone, column, to)),
  );
}

/** Whether `outer` has every reading of `inner`. */
export function includes(outer: Zone, inner: Zone): boolean {
  return inner.every((bound, cell) => bound <= at(outer, 0, cell));
}
