// The device's body as the world makes it: how long it takes to boot and to connect, and how wrong its sleep
// clock runs. The device itself sees none of it.
import type { Ppm, TrueMs } from '../base/index.js';

/** A duration that is always the same, drawn each time from a range, or written down one by one. */
export type VaryingMs =
  | { readonly kind: 'fixed'; readonly ms: TrueMs }
  /** Uniform over the whole milliseconds from least to greatest, both included. */
  | { readonly kind: 'range'; readonly leastMs: TrueMs; readonly greatestMs: TrueMs }
  /** One after the other; the last one stays. Never empty. */
  | { readonly kind: 'inTurn'; readonly ms: readonly TrueMs[] };

/** Clock error: a nominal sleep N lasts N × (1 + ppm / 10⁶). */
export type ClockError =
  | { readonly kind: 'fixed'; readonly ppm: Ppm }
  /** Drawn once a run, uniform over the whole ppm from least to greatest. */
  | { readonly kind: 'drawn'; readonly leastPpm: Ppm; readonly greatestPpm: Ppm }
  /** A step function of true time, as a temperature curve gives it; a sleep keeps the error at its start. */
  | { readonly kind: 'curve'; readonly steps: readonly ClockErrorStep[] }
  /** One a sleep; the last one stays. Never empty. */
  | { readonly kind: 'inTurn'; readonly ppm: readonly Ppm[] }
  /** True lengths of the sleeps, one after the other; further ones last their nominal length. */
  | { readonly kind: 'sleeps'; readonly ms: readonly TrueMs[] };

/** From `fromMs` on the clock errs by `ppm`; the first step also holds before its own start. */
export interface ClockErrorStep {
  readonly fromMs: TrueMs;
  readonly ppm: Ppm;
}

/** What a wake costs in time, and how true the sleep clock runs. */
export interface DeviceTiming {
  readonly bootTime: VaryingMs;
  readonly connectTime: VaryingMs;
  readonly clockError: ClockError;
}
