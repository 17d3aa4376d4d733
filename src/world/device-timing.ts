// The device's body as one run has it: how long it takes to boot and to connect, and how wrong its sleep clock runs. The
// device itself sees none of it.
import { type Ppm, ppm, type TrueMs, trueMs } from '../base/index.js';
import {
  type ClockErrorRange,
  clockErrorsOf,
  errorAt,
  type RangeMs,
  roomCelsius,
  type TimingRanges,
} from '../model/index.js';

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

/** From `atMs` on it is this warm around the device. */
export interface TemperatureStep {
  readonly atMs: TrueMs;
  readonly celsius: number;
}

/** What a wake costs in time, and how true the sleep clock runs. */
export interface Timing {
  readonly bootTime: VaryingMs;
  readonly connectTime: VaryingMs;
  /** How long at most an attempt waits for the network after its connect time; absent: not at all. */
  readonly joinWaitMs?: number;
  readonly clockError: ClockError;
}

/** Only `deviceTiming` has this key: a watch file's ranges, or a part of them, are not a timing that can be run. */
const resolved: unique symbol = Symbol('resolved');

/** A timing that can be run. `deviceTiming` alone makes one. */
export interface DeviceTiming extends Timing {
  readonly joinWaitMs: number;
  readonly [resolved]: true;
}

/** What a timeline says of the device in place of its watch file; null or absent: nothing. */
export interface GivenTiming {
  readonly bootTime?: VaryingMs | null;
  readonly connectTime?: VaryingMs | null;
  readonly clockError?: ClockError | null;
  /** Ascending; each holds until the next, the first also before itself. Empty: it is as warm as in a room. */
  readonly temperature?: readonly TemperatureStep[];
}

/**
 * The timing of a run: what the timeline gives, else what the watch file gives.
 * @param ranges the watch file's; null: all times are given.
 */
export function deviceTiming(given: Timing): DeviceTiming;
export function deviceTiming(given: GivenTiming, ranges: TimingRanges): DeviceTiming;
export function deviceTiming(given: Timing | GivenTiming, ranges?: TimingRanges): DeviceTiming {
  const { bootTime, connectTime, clockError } = given;
  const temperature = 'temperature' in given ? given.temperature : undefined;
  return {
    bootTime: bootTime ?? varying(ranges?.bootTime),
    connectTime: connectTime ?? varying(ranges?.connectTime),
    joinWaitMs: ranges?.joinWaitMs ?? ('joinWaitMs' in given ? (given.joinWaitMs ?? 0) : 0),
    clockError: clockError ?? errorOf(ranges?.clockError, temperature ?? []),
    [resolved]: true,
  };
}

/**
 * A device whose times all lie at the middle of their ranges; a clock that errs by temperature runs as in a room. The sleeps of a
 * clock with a range of errors are counted at their nominal length, as in any run of it.
 */
export function middleTiming(ranges: TimingRanges): DeviceTiming {
  const middleMs = ({ least, most }: RangeMs): VaryingMs => ({
    kind: 'fixed',
    ms: trueMs(Math.round((least + most) / 2)),
  });
  const { clockError } = ranges;
  const middle =
    clockError.kind === 'range' && clockError.least < clockError.most
      ? Math.round((clockError.least + clockError.most) / 2)
      : null;
  return deviceTiming(
    {
      bootTime: middleMs(ranges.bootTime),
      connectTime: middleMs(ranges.connectTime),
      clockError: middle === null ? null : { kind: 'inTurn', ppm: [ppm(middle)] },
    },
    ranges,
  );
}

function varying({ least, most }: RangeMs = { least: 0, most: 0 }): VaryingMs {
  const leastMs = trueMs(least);
  if (least === most) return { kind: 'fixed', ms: leastMs };
  return { kind: 'range', leastMs, greatestMs: trueMs(most) };
}

const trueClock: ClockErrorRange = { kind: 'range', least: ppm(0), most: ppm(0) };

/**
 * A clock that errs by temperature counts every sleep at its nominal length, also where it stays as warm: a device
 * cannot know how warm it is.
 */
function errorOf(
  range: ClockErrorRange = trueClock,
  temperature: readonly TemperatureStep[],
): ClockError {
  const { least, most } = clockErrorsOf(range);
  if (least === most) return { kind: 'fixed', ppm: least };
  if (range.kind === 'range') return { kind: 'drawn', leastPpm: least, greatestPpm: most };
  const { points } = range;
  const room: TemperatureStep = { atMs: trueMs(0), celsius: roomCelsius };
  const steps = temperature.length === 0 ? [room] : temperature;
  return {
    kind: 'curve',
    steps: steps.map(({ atMs, celsius }) => ({ fromMs: atMs, ppm: errorAt(points, celsius) })),
  };
}
