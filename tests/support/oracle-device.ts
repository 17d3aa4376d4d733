// The body of the oracle's device: its clock, and its boot and connect times.
import { randomStream } from '../../src/base/index.js';
import type { ClockError, VaryingMs } from '../../src/world/index.js';

/** The device's clock, as a list of what was slept. */
export interface OracleClock {
  /** True length of a nominal sleep begun at `startMs`. */
  sleepMs(nominalMs: number, startMs: number): number;
  /** The last sleep was slept to its end. */
  sleptThrough(): void;
  /** Whether a nominal duration has passed on the device's clock between two true instants. */
  hasPassed(nominalMs: number, fromMs: number, atMs: number): boolean;
}

const million = 1_000_000n;

/** `nominal × (1 + error)` to the nearest whole millisecond, a half up, in exact fractions. */
function stretched(nominalMs: number, ppm: number): number {
  const exact = BigInt(nominalMs) * (million + BigInt(ppm));
  return Number((2n * exact + million) / (2n * million));
}

export function oracleClock(error: ClockError, seed: string): OracleClock {
  const one = oneError(error);
  const lengthOf = sleepLengths(error, seed);
  const begun: { readonly fromMs: number; readonly nominalMs: number; readonly ms: number }[] = [];
  const done: (typeof begun)[number][] = [];
  return {
    sleepMs(nominalMs, startMs) {
      const ms = lengthOf(begun.length, nominalMs, startMs);
      begun.push({ fromMs: startMs, nominalMs, ms });
      return ms;
    },
    sleptThrough() {
      const last = begun.at(-1);
      if (last !== undefined && one === null) done.push(last);
    },
    hasPassed(nominalMs, fromMs, atMs) {
      if (one !== null) {
        return BigInt(atMs - fromMs) * million >= BigInt(nominalMs) * (million + BigInt(one));
      }
      // A sleep counts at its nominal length, all other time as it is.
      let countedMs = atMs - fromMs;
      for (const sleep of done) {
        if (sleep.fromMs >= fromMs) countedMs += sleep.nominalMs - sleep.ms;
      }
      return countedMs >= nominalMs;
    },
  };
}

/** The error of a clock that has one error by its very description. */
function oneError(error: ClockError): number | null {
  if (error.kind === 'fixed') return error.ppm;
  if (error.kind === 'drawn' && error.leastPpm === error.greatestPpm) return error.leastPpm;
  return null;
}

/** The true length of each sleep, by its number, its nominal length and its start. */
function sleepLengths(
  error: ClockError,
  seed: string,
): (sleep: number, nominalMs: number, startMs: number) => number {
  switch (error.kind) {
    case 'fixed':
      return (_, nominalMs) => stretched(nominalMs, error.ppm);
    case 'drawn': {
      const drawn = randomStream(seed, 'clock error').whole(error.leastPpm, error.greatestPpm);
      return (_, nominalMs) => stretched(nominalMs, drawn);
    }
    case 'curve':
      return (_, nominalMs, startMs) => {
        const begun = error.steps.filter((step) => step.fromMs <= startMs);
        return stretched(nominalMs, (begun.at(-1) ?? error.steps[0])?.ppm ?? 0);
      };
    case 'inTurn':
      return (sleep, nominalMs) => stretched(nominalMs, error.ppm[sleep] ?? error.ppm.at(-1) ?? 0);
    case 'sleeps':
      return (sleep, nominalMs) => error.ms[sleep] ?? nominalMs;
  }
}

/** Boot or connect times, one a call. */
export function oracleDurations(varying: VaryingMs, seed: string, purpose: string): () => number {
  if (varying.kind === 'fixed') return () => varying.ms;
  if (varying.kind === 'range') {
    const stream = randomStream(seed, purpose);
    return () => stream.whole(varying.leastMs, varying.greatestMs);
  }
  let used = 0;
  return () => {
    used += 1;
    return varying.ms[used - 1] ?? varying.ms.at(-1) ?? 0;
  };
}
