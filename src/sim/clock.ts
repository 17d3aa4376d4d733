// The device's sleep clock, seen from outside. With one error for the whole run everything the device times is
// stretched by it. Where each sleep may err differently, the device counts a completed sleep at its nominal length,
// and the time it is awake, or asleep until something cuts the sleep short, as it is.
import { atLeastMs, type DeviceMs, lastsMs, type Ppm, ppm, randomStream } from '../base/index.js';
import type { ClockError } from '../world/index.js';

/** Readings and timers of one device's clock. Readings only compare with readings of the same clock. */
export interface SleepClock {
  /** The error of the whole run, or null when it changes. */
  readonly constantPpm: Ppm | null;
  /** How long a nominal interval begun at `startMs` lasts; with a changing error this takes the next one. */
  sleepMs(nominalMs: DeviceMs, startMs: number): number;
  /** The last sleep ran to its end. */
  sleptThrough(): void;
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
    case 'drawn': {
      const { leastPpm, greatestPpm } = error;
      if (leastPpm === greatestPpm) return constantClock(leastPpm);
      const drawn = ppm(randomStream(seed, 'clock error').whole(leastPpm, greatestPpm));
      return changingClock((nominalMs) => lastsMs(nominalMs, drawn));
    }
    case 'curve':
      return changingClock((nominalMs, _, startMs) => {
        let current = error.steps[0]?.ppm ?? ppm(0);
        for (const step of error.steps) if (step.fromMs <= startMs) current = step.ppm;
        return lastsMs(nominalMs, current);
      });
    case 'inTurn': {
      const last = error.ppm.length - 1;
      return changingClock((nominalMs, index) =>
        lastsMs(nominalMs, error.ppm[Math.min(index, last)] ?? ppm(0)),
      );
    }
    case 'sleeps':
      return changingClock((nominalMs, index) => error.ms[index] ?? nominalMs);
  }
}

/** For a constant error, "r − delivered ≥ cooldown × (1 + error)" exactly: readings are true milliseconds. */
function constantClock(error: Ppm): SleepClock {
  return {
    constantPpm: error,
    sleepMs: (nominalMs) => lastsMs(nominalMs, error),
    sleptThrough: () => undefined,
    reading: (atMs) => atMs,
    timer: (nominalMs) => atLeastMs(nominalMs, error),
  };
}

/** Readings are true time, set right after each completed sleep by what it erred. */
function changingClock(
  lengthOf: (nominalMs: DeviceMs, index: number, startMs: number) => number,
): SleepClock {
  let index = 0;
  let offsetMs = 0;
  let lastErrorMs = 0;
  return {
    constantPpm: null,
    sleepMs(nominalMs, startMs) {
      const lengthMs = lengthOf(nominalMs, index, startMs);
      index += 1;
      lastErrorMs = lengthMs - nominalMs;
      return lengthMs;
    },
    sleptThrough() {
      offsetMs -= lastErrorMs;
    },
    reading: (atMs) => atMs + offsetMs,
    timer: (nominalMs) => nominalMs,
  };
}
