// The error of a device's clock, from sleeps of a known nominal length: a straight line through the instants of the checks,
// over all of the log. An error of one stamp lengthens one sleep and shortens the next; on the line it moves one point.

/** A sleep that ended by its timer. */
export interface TimedSleep {
  readonly nominalMs: number;
  readonly lengthMs: number;
  /** Whether it begins with the check that the sleep before it ended with. */
  readonly continues: boolean;
}

/** Sleeps last (1 + ppm / 10⁶) × nominal. */
export interface ClockEstimate {
  readonly ppm: number;
  /** Where it lies at 95 %, by Student's t; two sleeps or more. */
  readonly lowPpm: number;
  readonly highPpm: number;
  readonly sleeps: number;
  /** How far the interval reaches to either side only because the boot time has a range. */
  readonly bootPpm: number;
}

/** A point of a line: what the device counted, and what passed. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
}

export interface Slope {
  readonly slope: number;
  readonly standardError: number;
  readonly degrees: number;
}

/** Neighbouring sleeps whose errors cancel have this correlation or less; sleeps that differ by themselves have 0. */
const cancelling = -0.25;

/**
 * @param bootHalfMs half of the range of boot times, whose middle the lengths leave out: all boots may lie at either end of it,
 * which no number of sleeps averages out.
 * @returns null for fewer than two sleeps, which show nothing of their spread.
 */
export function clockOf(sleeps: readonly TimedSleep[], bootHalfMs: number): ClockEstimate | null {
  if (sleeps.length < 2) return null;
  const isLine = neighboursCancel(sleeps);
  const ifLonger = (byMs: number): Slope => {
    const longer = sleeps.map((sleep) => ({ ...sleep, lengthMs: sleep.lengthMs + byMs }));
    return (isLine ? slopeOf(runsOf(longer)) : null) ?? meanOf(longer);
  };
  const [least, found, most] = [ifLonger(-bootHalfMs), ifLonger(0), ifLonger(bootHalfMs)];
  const half = student95(found.degrees) * found.standardError;
  const ppm = (slope: number): number => Math.round((slope - 1) * 1e6);
  return {
    ppm: ppm(found.slope),
    lowPpm: ppm(least.slope - half),
    highPpm: ppm(most.slope + half),
    sleeps: sleeps.length,
    bootPpm: ppm(1 + (most.slope - least.slope) / 2),
  };
}

/** The checks of sleeps that follow on each other, as points of one line. */
function runsOf(sleeps: readonly TimedSleep[]): readonly (readonly LinePoint[])[] {
  const runs: LinePoint[][] = [];
  for (const { nominalMs, lengthMs, continues } of sleeps) {
    const last = continues ? runs.at(-1) : undefined;
    const run = last ?? [{ x: 0, y: 0 }];
    if (last === undefined) runs.push(run);
    const before = run.at(-1) ?? { x: 0, y: 0 };
    run.push({ x: before.x + nominalMs, y: before.y + lengthMs });
  }
  return runs;
}

/**
 * Least squares with one slope for all runs and an offset for each.
 * @returns null without a degree of freedom left.
 */
export function slopeOf(runs: readonly (readonly LinePoint[])[]): Slope | null {
  let [xx, xy, yy, count] = [0, 0, 0, 0];
  for (const run of runs) {
    const meanX = sum(run.map(({ x }) => x)) / run.length;
    const meanY = sum(run.map(({ y }) => y)) / run.length;
    xx += sum(run.map(({ x }) => (x - meanX) ** 2));
    yy += sum(run.map(({ y }) => (y - meanY) ** 2));
    xy += sum(run.map(({ x, y }) => (x - meanX) * (y - meanY)));
    count += run.length;
  }
  const degrees = count - runs.length - 1;
  if (degrees < 1 || xx === 0) return null;
  const slope = xy / xx;
  const residual = sum(
    runs.map((run) => {
      const meanX = sum(run.map(({ x }) => x)) / run.length;
      const meanY = sum(run.map(({ y }) => y)) / run.length;
      return sum(run.map(({ x, y }) => (y - meanY - slope * (x - meanX)) ** 2));
    }),
  );
  return { slope, standardError: Math.sqrt(Math.min(residual, yy) / degrees / xx), degrees };
}

/** Sleeps that differ by themselves, each on its own: their sum over what they should have lasted. */
function meanOf(sleeps: readonly TimedSleep[]): Slope {
  const count = sleeps.length;
  const nominal = sum(sleeps.map(({ nominalMs }) => nominalMs));
  const slope = sum(sleeps.map(({ lengthMs }) => lengthMs)) / nominal;
  const squares = sum(sleeps.map(({ nominalMs, lengthMs }) => (lengthMs - nominalMs * slope) ** 2));
  const standardError = Math.sqrt((squares * count) / (count - 1)) / nominal;
  return { slope, standardError, degrees: count - 1 };
}

/** Whether what one sleep has too much the next has too little, as errors of stamps make it. */
function neighboursCancel(sleeps: readonly TimedSleep[]): boolean {
  const { slope } = meanOf(sleeps);
  const errors = sleeps.map(({ nominalMs, lengthMs }) => lengthMs - slope * nominalMs);
  const squares = sum(errors.map((error) => error * error));
  const products = sum(
    errors.map((error, index) =>
      sleeps[index]?.continues === true ? error * (errors[index - 1] ?? 0) : 0,
    ),
  );
  return squares > 0 && products / squares <= cancelling;
}

/** Two-sided 95 % points of Student's t for few degrees of freedom (tables). */
const fewDegrees = [12.7062, 4.3027, 3.1824, 2.7764, 2.5706];
const z = 1.959964;

/** Beyond these by the expansion of Cornish and Fisher (Abramowitz and Stegun 26.7.5, from memory). */
export function student95(degrees: number): number {
  const known = fewDegrees[degrees - 1];
  if (known !== undefined) return known;
  return (
    z +
    (z ** 3 + z) / (4 * degrees) +
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * degrees ** 2) +
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * degrees ** 3)
  );
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
