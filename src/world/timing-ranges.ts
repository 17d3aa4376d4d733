// What the times of one run may be at the least and at the most.
import { greatestOf, leastOf, type Ppm, ppm } from '../base/index.js';
import type { PpmRange, RangeMs } from '../model/index.js';
import type { ClockError, VaryingMs } from './device-timing.js';

export function rangeMsOf(varying: VaryingMs): RangeMs {
  switch (varying.kind) {
    case 'fixed':
      return { least: varying.ms, most: varying.ms };
    case 'range':
      return { least: varying.leastMs, most: varying.greatestMs };
    case 'inTurn':
      return { least: leastOf(varying.ms), most: greatestOf(varying.ms) };
  }
}

/** Where true lengths of sleeps are given in place of an error, the clock is taken as true. */
export function clockErrorRangeOf(clockError: ClockError): PpmRange {
  switch (clockError.kind) {
    case 'fixed':
      return { least: clockError.ppm, most: clockError.ppm };
    case 'drawn':
      return { least: clockError.leastPpm, most: clockError.greatestPpm };
    case 'curve':
      return extremes(clockError.steps.map((step) => step.ppm));
    case 'inTurn':
      return extremes(clockError.ppm);
    case 'sleeps':
      return { least: ppm(0), most: ppm(0) };
  }
}

function extremes(errors: readonly Ppm[]): PpmRange {
  return { least: ppm(leastOf(errors)), most: ppm(greatestOf(errors)) };
}
