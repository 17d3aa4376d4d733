// Sets of clock readings, as the most by which each clock is ahead of each other one (D. Dill, Timing assumptions and
// verification of finite-state concurrent systems, 1989). All bounds are whole milliseconds, kept as tight as they are.

/** Clock 0 always reads zero; the first three go with true time, the others with the device's clock. */
export const clockNames = [
  'zero',
  'opening',
  'outage',
  'chatter',
  'cooldown',
  'heartbeat',
] as const;
export type ClockName = Exclude<(typeof clockNames)[number], 'zero'>;

/** Row by row: how far the row's clock is ahead of the column's at most. Never empty: no reading at all is null. */
export type Readings = Float64Array;

export interface Range {
  readonly least: number;
  readonly most: number;
}

/** A sleep that runs to its end: its true length, and what the device's clock counts for it. */
export interface Sleep extends Range {
  readonly counted: number;
}

export const clocks = clockNames.length;
const indices = clockNames.map((_, index) => index);
const trueClocks = [1, 2, 3];
const deviceClocks = [4, 5];

/** How far one clock is ahead of another at most. */
export function ahead(readings: Readings, row: number, column: number): number {
  return readings[row * clocks + column] ?? Number.POSITIVE_INFINITY;
}

export function indexOf(name: ClockName): number {
  return clockNames.indexOf(name);
}

export function most(readings: Readings, name: ClockName): number {
  return ahead(readings, indexOf(name), 0);
}

export function least(readings: Readings, name: ClockName): number {
  return 0 - ahead(readings, 0, indexOf(name));
}

/** Every clock reads zero. */
export function allZero(): Readings {
  return new Float64Array(clocks * clocks);
}

/** Time passes for all clocks alike. */
export function passed(readings: Readings, time: Range): Readings {
  const next = readings.slice();
  for (const index of [...trueClocks, ...deviceClocks]) {
    next[index * clocks] = ahead(readings, index, 0) + time.most;
    next[index] = ahead(readings, 0, index) - time.least;
  }
  return next;
}

/** A whole sleep passes: true clocks go on by its true length, the device's by what the device counts. */
export function slept(readings: Readings, sleep: Sleep): Readings {
  const { least: shortest, most: longest, counted } = sleep;
  if (shortest === longest && longest === counted) return passed(readings, sleep);
  const next = readings.slice();
  for (const device of deviceClocks) {
    next[device * clocks] = ahead(readings, device, 0) + counted;
    next[device] = ahead(readings, 0, device) - counted;
  }
  for (const index of trueClocks) {
    next[index * clocks] = ahead(readings, index, 0) + longest;
    next[index] = ahead(readings, 0, index) - shortest;
    for (const device of deviceClocks) {
      next[index * clocks + device] = ahead(readings, index, device) + longest - counted;
      next[device * clocks + index] = ahead(readings, device, index) + counted - shortest;
    }
  }
  for (const by of indices) tighten(next, by, by);
  return next;
}

/** Clocks set to zero. */
export function zeroed(readings: Readings, names: readonly ClockName[]): Readings {
  const next = readings.slice();
  for (const index of names.map(indexOf)) {
    for (const other of indices.filter((candidate) => candidate !== index)) {
      next[index * clocks + other] = ahead(next, 0, other);
      next[other * clocks + index] = ahead(next, other, 0);
    }
  }
  return next;
}

/** The opening begins at any later time: its clock reads at most `reading`, below zero until then. */
export function opensLater(readings: Readings, reading: number): Readings {
  const next = readings.slice();
  const opening = indexOf('opening');
  for (const other of indices.filter((candidate) => candidate !== opening)) {
    next[opening * clocks + other] = reading + ahead(readings, 0, other);
    next[other * clocks + opening] = Number.POSITIVE_INFINITY;
  }
  return next;
}

/** The readings with this clock at most (or at least) at a value; null when there are none. */
export function keeping(
  readings: Readings,
  name: ClockName,
  side: 'at most' | 'at least',
  value: number,
): Readings | null {
  const index = indexOf(name);
  const [row, column, bound] = side === 'at most' ? [index, 0, value] : [0, index, 0 - value];
  if (ahead(readings, row, column) <= bound) return readings;
  if (ahead(readings, column, row) + bound < 0) return null;
  const next = readings.slice();
  next[row * clocks + column] = bound;
  tighten(next, row, column);
  return next;
}

/** Takes the way from `row` to `column` wherever it is shorter. */
function tighten(readings: Readings, row: number, column: number): void {
  const over = row === column ? 0 : ahead(readings, row, column);
  for (const from of indices) {
    for (const to of indices) {
      const around = ahead(readings, from, row) + over + ahead(readings, column, to);
      if (around < ahead(readings, from, to)) readings[from * clocks + to] = around;
    }
  }
}

/**
 * With the readings added that are no worse for the watch: an opening that began later (or, for the earliest alert,
 * sooner), an outage and a chatter that have less of their length left.
 */
export function eased(readings: Readings, seek: 'latest' | 'earliest'): Readings {
  const next = readings.slice();
  const opening = indexOf('opening');
  for (const other of indices.filter((index) => index !== opening)) {
    const cell = seek === 'latest' ? other * clocks + opening : opening * clocks + other;
    next[cell] = Number.POSITIVE_INFINITY;
  }
  for (const index of [indexOf('outage'), indexOf('chatter')]) {
    for (const other of indices.filter((candidate) => candidate !== index)) {
      next[index * clocks + other] = Number.POSITIVE_INFINITY;
    }
  }
  return next;
}

/** The smallest set of this kind that holds both. */
export function hull(one: Readings, other: Readings): Readings {
  return one.map((bound, cell) => Math.max(bound, other[cell] ?? bound));
}

/** Whether `outer` holds every reading of `inner`, as far as these clocks are concerned. */
export function holds(outer: Readings, inner: Readings, active: readonly number[]): boolean {
  for (const row of active) {
    for (const column of active) {
      if (ahead(inner, row, column) > ahead(outer, row, column)) return false;
    }
  }
  return true;
}
