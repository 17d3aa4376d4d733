// What holds at a temperature, from the points of a curve.
import { greatestOf, leastOf, type Ppm, ppm } from '../../base/index.js';
import type { DeviceTiming } from '../../world/index.js';
import type { TemperaturePoint, WatchFile } from '../types.js';

/** The temperature that a watch file's clock is taken at when nobody says how warm it is. */
export const roomCelsius = 25;

/** The clock error at a temperature. @param points ascending in temperature; never empty. */
export function errorAt(points: readonly TemperaturePoint[], celsius: number): Ppm {
  return ppm(linearAt(points, celsius));
}

/**
 * Linear between the points, rounded to whole ppm; beyond the ends the end values hold.
 * @param points ascending in temperature; never empty.
 */
export function linearAt(
  points: readonly { readonly celsius: number; readonly ppm: number }[],
  celsius: number,
): number {
  let below = points[0];
  for (const point of points) {
    if (point.celsius >= celsius) {
      if (below === undefined || below === point || point.celsius === celsius) return point.ppm;
      const share = (celsius - below.celsius) / (point.celsius - below.celsius);
      return below.ppm + Math.round((point.ppm - below.ppm) * share);
    }
    below = point;
  }
  return below?.ppm ?? 0;
}

/** The times that bounds hold for: a clock that errs by temperature may err by anything on its curve, however warm it is. */
export function timingAtAnyTemperature({
  timing,
  clockErrorByTemperature: points,
}: WatchFile): DeviceTiming {
  if (points === null || points.length === 0) return timing;
  const errors = points.map((point) => point.ppm);
  const leastPpm = ppm(leastOf(errors));
  const greatestPpm = ppm(greatestOf(errors));
  return { ...timing, clockError: { kind: 'drawn', leastPpm, greatestPpm } };
}
