// The body of the oracle's device: its clock with exact fractions, and its boot and connect times.
import { randomStream } from '../../src/base/index.js';
import type { ClockError, VaryingMs } from '../../src/world/index.js';

/** The device's clock: a list of rates, each in force from some instant on. */
export interface OracleClock {
  /** True length of a nominal sleep begun at `startMs`; the sleep's own error is in force from there on. */
  sleepMs(nominalMs: number, startMs: number): number;
  /** Whether a nominal duration has passed on the device's clock between two true instants. */
  hasPassed(nominalMs: number, fromMs: number, atMs: number): boolean;
}

const million = 1_000_000n;

export function oracleClock(error: ClockError, seed: string): OracleClock {
  const errorOfSleep = sleepErrors(error, seed);
  const rates = [{ fromMs: Number.NEGATIVE_INFINITY, ppm: errorOfSleep(0, 0) }];
  let sleeps = 0;
  return {
    sleepMs(nominalMs, startMs) {
      const ppm = errorOfSleep(sleeps, startMs);
      sleeps += 1;
      if (rates.at(-1)?.ppm !== ppm) rates.push({ fromMs: startMs, ppm });
      const exact = BigInt(nominalMs) * (million + BigInt(ppm));
      return Number((2n * exact + million) / (2n * million));
    },
    hasPassed(nominalMs, fromMs, atMs) {
      let scale = 1n;
      for (const ppm of new Set(rates.map((rate) => rate.ppm))) scale *= million + BigInt(ppm);
      let passed = 0n;
      rates.forEach((rate, index) => {
        const start = Math.max(rate.fromMs, fromMs);
        const end = Math.min(rates[index + 1]?.fromMs ?? atMs, atMs);
        if (end > start) {
          passed += (BigInt(end - start) * million * scale) / (million + BigInt(rate.ppm));
        }
      });
      return passed >= BigInt(nominalMs) * scale;
    },
  };
}

/** The error of each sleep, by its number and its start. */
function sleepErrors(error: ClockError, seed: string): (sleep: number, startMs: number) => number {
  if (error.kind === 'fixed') return () => error.ppm;
  if (error.kind === 'drawn') {
    const drawn = randomStream(seed, 'clock error').whole(error.leastPpm, error.greatestPpm);
    return () => drawn;
  }
  if (error.kind === 'curve') {
    return (_, startMs) => {
      const begun = error.steps.filter((step) => step.fromMs <= startMs);
      return (begun.at(-1) ?? error.steps[0])?.ppm ?? 0;
    };
  }
  return (sleep) => (sleep < error.ppm.length ? error.ppm[sleep] : error.ppm.at(-1)) ?? 0;
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
    return (used <= varying.ms.length ? varying.ms[used - 1] : varying.ms.at(-1)) ?? 0;
  };
}
