// A door that nobody opens, in closed form: the device checks, sleeps, and perhaps sends a heartbeat now and
// then. One cycle from heartbeat to heartbeat (or one check, without them) stands for all the time.
import { greatestOf, lastsMs, type Ppm, ppm } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';
import type { Use } from './use.js';

const monthMs = 2_592_000_000;

/**
 * The use of a quiet door over whole cycles, for 30 days and the rest of a cycle: long enough that rounding is
 * nothing. Where a time is drawn from a range, its middle stands for it; the cycles are even in number, so that
 * halves of a millisecond come out whole.
 */
export function quietUse(watch: WatchSettings, timing: DeviceTiming): Use {
  const error = middlePpm(timing.clockError);
  const sleepMs = lastsMs(watch.checkIntervalMs, error);
  const bootMs = middleMs(timing.bootTime);
  const connectMs = middleMs(timing.connectTime);
  const beat = watch.heartbeatIntervalMs;
  // A heartbeat is due at the first check that comes so long after the start of the last one.
  const checks =
    beat === null
      ? 1
      : Math.max(1, Math.ceil((lastsMs(beat, error) - connectMs) / (sleepMs + bootMs)));
  const beats = beat === null ? 0 : 1;
  const cycleMs = checks * (sleepMs + bootMs) + beats * connectMs;
  const cycles = 2 * Math.ceil(monthMs / (2 * cycleMs));
  return {
    lengthMs: cycles * cycleMs,
    offMs: 0,
    boots: { count: cycles * checks, ms: cycles * checks * bootMs },
    checks: cycles * checks,
    openChecks: 0,
    sends: { count: 0, ms: 0 },
    failedSends: { count: 0, ms: 0 },
    heartbeats: { count: cycles * beats, ms: cycles * beats * connectMs },
    heldMs: 0,
    contactShutMs: cycles * cycleMs,
  };
}

/** The middle of what a time may be, perhaps with half a millisecond. */
function middleMs(time: VaryingMs): number {
  switch (time.kind) {
    case 'fixed':
      return time.ms;
    case 'range':
      return (time.leastMs + time.greatestMs) / 2;
    case 'inTurn':
      return time.ms.at(-1) ?? 0;
  }
}

/** The longest that a time may be. */
export function greatestMs(time: VaryingMs): number {
  switch (time.kind) {
    case 'fixed':
      return time.ms;
    case 'range':
      return time.greatestMs;
    case 'inTurn':
      return greatestOf(time.ms);
  }
}

function middlePpm(error: ClockError): Ppm {
  switch (error.kind) {
    case 'fixed':
      return error.ppm;
    case 'drawn':
      return ppm(Math.round((error.leastPpm + error.greatestPpm) / 2));
    case 'curve':
      return error.steps[0]?.ppm ?? ppm(0);
    case 'inTurn':
      return error.ppm.at(-1) ?? ppm(0);
    case 'sleeps':
      return ppm(0);
  }
}

/** The most that a clock may run late. */
export function greatestPpm(error: ClockError): Ppm {
  switch (error.kind) {
    case 'fixed':
      return error.ppm;
    case 'drawn':
      return error.greatestPpm;
    case 'curve':
      return ppm(greatestOf(error.steps.map((step) => step.ppm)));
    case 'inTurn':
      return ppm(greatestOf(error.ppm));
    case 'sleeps':
      return ppm(0);
  }
}
