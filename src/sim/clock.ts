// The device's sleep clock, seen from outside. With one error for the whole run everything the device times is
// stretched by it. Where each sleep may err differently, the device counts a completed sleep at its nominal length,
// and the time it is awake, or asleep until something cuts the sleep short, as it is.
import {
  atLeastMs,
  type DeviceMs,
  itemAt,
  lastsMs,
  type Ppm,
  ppm,
  randomStream,
} from '../base/index.js';
import type { ClockError } from '../world/index.js';

/** How long one device's sleeps last, and how it counts them. */
export interface SleepClock {
  /** The error of the whole run: all sleeps of one nominal length last the same. Null when it changes. */
  readonly ppm: Ppm | null;
  /** A completed sleep adds its nominal length to the clock's reading, and not the time that it took. */
  readonly countsNominal: boolean;
  /** How long a nominal interval begun at `startMs` lasts; with a changing error this takes the next one. */
  sleepMs(nominalMs: DeviceMs, startMs: number): number;
  /** What the reading must have grown by when a timer of this nominal length has run out. */
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
      return { ...changingClock((nominalMs) => lastsMs(nominalMs, drawn)), ppm: drawn };
    }
    case 'curve': {
      const [first, ...others] = error.steps;
      const steady = first?.ppm ?? ppm(0);
      const clock = changingClock((nominalMs, _, startMs) => {
        let current = steady;
        for (const step of others) if (step.fromMs <= startMs) current = step.ppm;
        return lastsMs(nominalMs, current);
      });
      return others.length === 0 ? { ...clock, ppm: steady } : clock;
    }
    case 'inTurn': {
      const last = error.ppm.length - 1;
      return changingClock((nominalMs, index) =>
        lastsMs(nominalMs, itemAt(error.ppm, Math.min(index, last))),
      );
    }
    case 'sleeps':
      return changingClock((nominalMs, index) => error.ms[index] ?? nominalMs);
  }
}

/** For a constant error, "r − delivered ≥ cooldown × (1 + error)" exactly: readings are true milliseconds. */
function constantClock(error: Ppm): SleepClock {
  return {
    ppm: error,
    countsNominal: false,
    sleepMs: (nominalMs) => lastsMs(nominalMs, error),
    timer: (nominalMs) => atLeastMs(nominalMs, error),
  };
}

function changingClock(
  lengthOf: (nominalMs: DeviceMs, index: number, startMs: number) => number,
): SleepClock {
  let index = -1;
  return {
    ppm: null,
    countsNominal: true,
    sleepMs: (nominalMs, startMs) => lengthOf(nominalMs, (index += 1), startMs),
    timer: (nominalMs) => nominalMs,
  };
}
