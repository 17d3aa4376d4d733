// The error of a device's clock, from sleeps of a known nominal length: what they lasted over what they should have.

/** A sleep that ended by its timer. */
export interface TimedSleep {
  readonly nominalMs: number;
  readonly lengthMs: number;
}

/** Sleeps last (1 + ppm / 10⁶) × nominal. */
export interface ClockEstimate {
  readonly ppm: number;
  /** Where it lies at 95 %, by the spread of the sleeps (normal approximation); two sleeps or more. */
  readonly lowPpm: number;
  readonly highPpm: number;
  readonly sleeps: number;
}

/** The two-sided 95 % point of the normal distribution. */
const normal95 = 1.96;

/** Null: fewer than two sleeps tell nothing of their spread. */
export function clockOf(sleeps: readonly TimedSleep[]): ClockEstimate | null {
  const count = sleeps.length;
  if (count < 2) return null;
  const nominal = sum(sleeps.map(({ nominalMs }) => nominalMs));
  const error = sum(sleeps.map(({ lengthMs }) => lengthMs)) / nominal - 1;
  const squares = sum(
    sleeps.map(({ nominalMs, lengthMs }) => (lengthMs - nominalMs * (1 + error)) ** 2),
  );
  const half = (normal95 * Math.sqrt((squares * count) / (count - 1))) / nominal;
  const ppm = (share: number): number => Math.round(share * 1e6);
  return {
    ppm: ppm(error),
    lowPpm: ppm(error - half),
    highPpm: ppm(error + half),
    sleeps: count,
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
