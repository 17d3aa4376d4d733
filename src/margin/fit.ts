// A time constant from readings: ln |T∞ − T| falls along a straight line whose slope is −1/τ, and least squares
// find it.
import { type Diagnostic, err, ok, type Result, type SourceRef } from '../base/index.js';

export interface Reading {
  /** From any fixed instant on. */
  readonly atMs: number;
  readonly celsius: number;
  readonly source: SourceRef;
}

export interface FittedWarmUp {
  readonly tauMs: number;
  /** By the line, at the first reading. */
  readonly startCelsius: number;
  /** The largest distance of a reading from the curve, in °C. */
  readonly worstMisfitCelsius: number;
  readonly readings: number;
}

/** A space that takes longer than ten years is not being warmed. */
const longestTauMs = 315_576_000_000;

/**
 * @param readings ascending in time, no two at the same.
 * @returns Errors: `readings-too-few`, `reading-beyond-outside`, `readings-do-not-warm`.
 */
export function fitWarmUp(
  readings: readonly Reading[],
  outsideCelsius: number,
  source: SourceRef,
): Result<FittedWarmUp> {
  const [first] = readings;
  if (first === undefined || readings.length < 2) {
    const message = 'a time constant needs at least two readings';
    return err({ code: 'readings-too-few', severity: 'error', source, message });
  }
  const side = Math.sign(outsideCelsius - first.celsius);
  const beyond = readings.find(({ celsius }) => (outsideCelsius - celsius) * side <= 0);
  if (beyond !== undefined) return err(beyondOutside(beyond, outsideCelsius));
  const points = readings.map(({ atMs, celsius }) => ({
    x: atMs - first.atMs,
    y: Math.log((outsideCelsius - celsius) * side),
  }));
  const { slope, intercept } = leastSquares(points);
  const tauMs = -1 / slope;
  if (!(tauMs > 0 && tauMs < longestTauMs)) return err(doNotWarm(source, side));
  const startCelsius = outsideCelsius - side * Math.exp(intercept);
  const misfits = readings.map(({ atMs, celsius }) => {
    const fitted = outsideCelsius - side * Math.exp(intercept + slope * (atMs - first.atMs));
    return Math.abs(fitted - celsius);
  });
  const worstMisfitCelsius = misfits.reduce((most, misfit) => Math.max(most, misfit), 0);
  return ok({ tauMs, startCelsius, worstMisfitCelsius, readings: readings.length });
}

function leastSquares(points: readonly { readonly x: number; readonly y: number }[]) {
  const count = points.length;
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / count;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / count;
  const covariance = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const variance = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const slope = covariance / variance;
  return { slope, intercept: meanY - slope * meanX };
}

function beyondOutside({ celsius, source }: Reading, outsideCelsius: number): Diagnostic {
  return {
    code: 'reading-beyond-outside',
    severity: 'error',
    source,
    message: 'this reading is not between the first one and the outside temperature',
    found: `${String(celsius)} °C`,
    expected: `on the same side of ${String(outsideCelsius)} °C as the first reading`,
    hint: 'check --outside: it is the temperature that the space warms or cools to',
  };
}

function doNotWarm(source: SourceRef, side: number): Diagnostic {
  return {
    code: 'readings-do-not-warm',
    severity: 'error',
    source,
    message: `the readings do not ${side > 0 ? 'warm' : 'cool'} towards the outside temperature`,
    hint: 'start the readings when the door opens, and keep it open',
  };
}
