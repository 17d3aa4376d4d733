// A door that nobody opens, in closed form: the device checks, sleeps, and perhaps sends a heartbeat now and
// then. Every cycle from heartbeat to heartbeat (or from check to check, without them) is alike.
import { lastsMs, type Ppm, ppm } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  type ClockErrorRange,
  errorAt,
  monthMs,
  type RangeMs,
  roomCelsius,
  type TimingRanges,
} from '../model/index.js';
import type { Use } from './use.js';

/**
 * The use of a quiet door over whole cycles, for 30 days and the rest of a cycle: long enough that rounding is
 * nothing. A time that is drawn from a range is taken as its middle; the cycles are even in number, so that
 * halves of a millisecond come out whole.
 */
export function quietUse(watch: WatchSettings, timing: TimingRanges): Use {
  const error = middlePpm(timing.clockError);
  const sleepMs = lastsMs(watch.checkIntervalMs, error);
  const bootMs = middleMs(timing.bootTime);
  const connectMs = middleMs(timing.connectTime);
  const beat = watch.heartbeatIntervalMs;
  // A heartbeat is due at the first check at least one interval after the start of the last one.
  const checks =
    beat === null
      ? 1
      : Math.max(1, Math.ceil((lastsMs(beat, error) - connectMs) / (sleepMs + bootMs)));
  const beats = beat === null ? 0 : 1;
  const cycleMs = checks * (sleepMs + bootMs) + beats * connectMs;
  const cycles = 2 * Math.ceil(monthMs / (2 * cycleMs));
  return {
    lengthMs: cycles * cycleMs,
    beforePowerOnMs: 0,
    offMs: 0,
    boots: { count: cycles * checks, ms: cycles * checks * bootMs },
    checks: cycles * checks,
    openChecks: 0,
    sends: { count: 0, ms: 0 },
    failedSends: { count: 0, ms: 0 },
    heartbeats: { count: cycles * beats, ms: cycles * beats * connectMs },
    waitMs: 0,
    heldMs: 0,
    shutBootMs: cycles * checks * bootMs,
    contactShutMs: cycles * cycleMs,
  };
}

/** Perhaps with half a millisecond. */
function middleMs({ least, most }: RangeMs): number {
  return (least + most) / 2;
}

/** A clock that errs by temperature is taken as it runs in a room. */
function middlePpm(error: ClockErrorRange): Ppm {
  if (error.kind === 'byTemperature') return errorAt(error.points, roomCelsius);
  return ppm(Math.round((error.least + error.most) / 2));
}
