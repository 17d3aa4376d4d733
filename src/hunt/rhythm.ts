// The distances at which a device looks at the world: where a door must open and shut to trouble it most.
import { type NominalSleeps, nominalSleeps, type RangeMs } from '../model/index.js';
import { rangeMsOf, type VaryingMs } from '../world/index.js';

/** Distances in time that a device keeps, in whole milliseconds of a true clock. */
export interface Rhythm {
  /** From one check to the next while nothing happens: check interval and boot time. */
  readonly checkMs: number;
  /** From an open check that is no alert to the next check: recheck interval and boot time. */
  readonly recheckMs: number;
  /** From a failed attempt to the next check: retry interval and boot time. */
  readonly retryMs: number;
  /** From power-on to the first check. */
  readonly bootMs: number;
  /** From a check to the end of its attempt. */
  readonly connectMs: number;
}

/** A watch file's ranges, or the timing of a run. */
interface StartUp {
  readonly bootTime: RangeMs | VaryingMs;
  readonly connectTime: RangeMs | VaryingMs;
}

/** The rhythm of a watch on a true clock; of times that vary, the first or the least. */
export function rhythmOf(watch: NominalSleeps, timing: StartUp): Rhythm {
  const bootMs = leastOf(timing.bootTime);
  const [check, recheck, retry] = nominalSleeps(watch);
  return {
    checkMs: check + bootMs,
    recheckMs: recheck + bootMs,
    retryMs: retry + bootMs,
    bootMs,
    connectMs: leastOf(timing.connectTime),
  };
}

function leastOf(time: RangeMs | VaryingMs): number {
  if (!('kind' in time)) return time.least;
  return time.kind === 'inTurn' ? (time.ms[0] ?? 0) : rangeMsOf(time).least;
}
