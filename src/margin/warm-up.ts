// One time constant for the whole space behind the door: (T − T∞)/(T0 − T∞) = exp(−t/τ). It holds both ways, for
// a cold room that warms and a warm one that cools.

/** A temperature that must not be passed, and from which side it is reached. */
export interface Limit {
  readonly celsius: number;
  readonly passed: 'rising' | 'falling';
}

export interface Space {
  readonly startCelsius: number;
  readonly outsideCelsius: number;
}

/**
 * How long until the space is at its limit.
 * @param tauMs the time constant, more than 0.
 * @returns whole milliseconds, rounded down; 0 when it is there already; null when it never gets there.
 */
export function toLimitMs(space: Space, limit: Limit, tauMs: number): number | null {
  const { startCelsius: start, outsideCelsius: outside } = space;
  const sign = limit.passed === 'rising' ? 1 : -1;
  if (sign * (start - limit.celsius) >= 0) return 0;
  if (sign * (outside - limit.celsius) <= 0) return null;
  return Math.floor(tauMs * Math.log((start - outside) / (limit.celsius - outside)));
}

/** The temperature of the space after a time. */
export function celsiusAfter(space: Space, tauMs: number, afterMs: number): number {
  const { startCelsius: start, outsideCelsius: outside } = space;
  return outside + (start - outside) * Math.exp(-afterMs / tauMs);
}
