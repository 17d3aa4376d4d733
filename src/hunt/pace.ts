// How long a device takes at most from one attempt to the next, and how its timers may run.
import { greatestOf, leastOf, type Ppm, ppm } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';

/** The greatest that a varying duration can be. */
export function greatestMs(varying: VaryingMs): number {
  switch (varying.kind) {
    case 'fixed':
      return varying.ms;
    case 'range':
      return varying.greatestMs;
    case 'inTurn':
      return greatestOf(varying.ms);
  }
}

/** The least and the greatest clock error. Sleeps written down one by one say nothing of it: they are taken as true. */
export function errorRange(error: ClockError): { readonly least: Ppm; readonly greatest: Ppm } {
  switch (error.kind) {
    case 'fixed':
      return { least: error.ppm, greatest: error.ppm };
    case 'drawn':
      return { least: error.leastPpm, greatest: error.greatestPpm };
    case 'curve':
      return extremes(error.steps.map((step) => step.ppm));
    case 'inTurn':
      return extremes(error.ppm);
    case 'sleeps':
      return { least: ppm(0), greatest: ppm(0) };
  }
}

function extremes(errors: readonly Ppm[]): { readonly least: Ppm; readonly greatest: Ppm } {
  return { least: ppm(leastOf(errors)), greatest: ppm(greatestOf(errors)) };
}

/**
 * The longest time from the end of one wake's work to the end of the next one's: a sleep, a boot, and an attempt.
 * A device that has something to send, and is left in peace for this long, has tried.
 */
export function longestPeriodMs(watch: WatchSettings, timing: DeviceTiming): number {
  const { checkIntervalMs, recheckIntervalMs, retryIntervalMs } = watch;
  const nominalMs = Math.max(checkIntervalMs, recheckIntervalMs, retryIntervalMs);
  const { greatest } = errorRange(timing.clockError);
  const sleepMs = Math.ceil(nominalMs + (nominalMs * Math.max(0, greatest)) / 1_000_000);
  return sleepMs + greatestMs(timing.bootTime) + 2 * greatestMs(timing.connectTime) + 1;
}
