// The device's sleep clock, seen from outside. It errs by one rate for the whole run, or by a rate that each
// sleep takes anew; a device-clock timer (cooldown, heartbeat) runs at the rate in force.
import { atLeastMs, type DeviceMs, lastsMs, type Ppm, ppm, randomStream } from '../base/index.js';
import type { ClockError } from '../world/index.js';

/** Readings and timers of one device's clock. Readings only compare with readings of the same clock. */
export interface SleepClock {
  /** The error of the whole run, or null when it changes. */
  readonly constantPpm: Ppm | null;
  /** How long a nominal interval begun at `startMs` lasts; with a changing error this takes the next one. */
  sleepMs(nominalMs: DeviceMs, startMs: number): number;
  /** What to subtract to get an elapsed time. */
  reading(atMs: number): number;
  /** The elapsed reading from which on a timer of this nominal length has run out. */
  timer(nominalMs: DeviceMs): number;
}

/** @param seed names the stream that a drawn error comes from. */
export function sleepClock(error: ClockError, seed: string): SleepClock {
  switch (error.kind) {
    case 'fixed':
      return constantClock(error.ppm);
    case 'drawn':
      return constantClock(
        ppm(randomStream(seed, 'clock error').whole(error.leastPpm, error.greatestPpm)),
      );
    case 'curve':
      return changingClock((_, startMs) => {
        let current = error.steps[0]?.ppm ?? ppm(0);
        for (const step of error.steps) if (step.fromMs <= startMs) current = step.ppm;
        return current;
      });
    case 'inTurn':
      return changingClock((index) => error.ppm[Math.min(index, error.ppm.length - 1)] ?? ppm(0));
  }
}

/** For a constant error, "r − delivered ≥ cooldown × (1 + error)" exactly: readings are true milliseconds. */
function constantClock(error: Ppm): SleepClock {
  return {
    constantPpm: error,
    sleepMs: (nominalMs) => lastsMs(nominalMs, error),
    reading: (atMs) => atMs,
    timer: (nominalMs) => atLeastMs(nominalMs, error),
  };
}

/** Readings are device microseconds, added up piece by piece between changes of the error. */
function changingClock(errorOf: (index: number, startMs: number) => Ppm): SleepClock {
  let index = 0;
  let current = errorOf(0, 0);
  let anchorMs = 0;
  let anchorUs = 0;
  const reading = (atMs: number): number =>
    anchorUs +
    Math.floor(((atMs - anchorMs) * 1_000_000) / (1_000_000 + current)) * 1_000 +
    Math.floor(
      ((((atMs - anchorMs) * 1_000_000) % (1_000_000 + current)) * 1_000) / (1_000_000 + current),
    );
  return {
    constantPpm: null,
    sleepMs(nominalMs, startMs) {
      const next = errorOf(index, startMs);
      index += 1;
      if (next !== current) {
        anchorUs = reading(startMs);
        anchorMs = startMs;
        current = next;
      }
      return lastsMs(nominalMs, current);
    },
    reading,
    timer: (nominalMs) => nominalMs * 1_000,
  };
}
