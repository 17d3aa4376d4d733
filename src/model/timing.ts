// What a device's times may be, as its watch file gives them. The clock error keeps its whole temperature curve: a bound
// holds at any temperature, so nothing here can be read without saying whether it is meant at one temperature or at all.
import {
  atLeastMs,
  type DeviceMs,
  deviceMs,
  greatestOf,
  invariant,
  lastsMs,
  leastOf,
  type Ppm,
  ppm,
} from '../base/index.js';

/** Both included. */
export interface RangeMs {
  readonly least: number;
  readonly most: number;
}

/** Both included. */
export interface PpmRange {
  readonly least: Ppm;
  readonly most: Ppm;
}

export interface TemperaturePoint {
  readonly celsius: number;
  readonly ppm: Ppm;
}

/** How wrong the sleep clock may run. */
export type ClockErrorRange =
  /** One device has one error; `least` equals `most` where the file gives a single value. */
  | ({ readonly kind: 'range' } & PpmRange)
  /** Ascending in temperature, linear in between; beyond the ends the end values hold. Never empty. */
  | { readonly kind: 'byTemperature'; readonly points: readonly TemperaturePoint[] };

/** The times of a device, each with its range. */
export interface TimingRanges {
  readonly bootTime: RangeMs;
  readonly connectTime: RangeMs;
  /** How long at most an attempt waits awake for the network, after `connectTime`. */
  readonly joinWaitMs: number;
  readonly clockError: ClockErrorRange;
}

/** The temperature at which a run takes the clock error when the timeline gives none. */
export const roomCelsius = 25;

/** Every clock error that the device may have, at any temperature. */
export function clockErrorsOf(clockError: ClockErrorRange): PpmRange {
  if (clockError.kind === 'range') return { least: clockError.least, most: clockError.most };
  const errors = clockError.points.map((point) => point.ppm);
  invariant(errors.length > 0, 'a temperature curve has points');
  return { least: ppm(leastOf(errors)), most: ppm(greatestOf(errors)) };
}

/** The clock error at a temperature. @param points ascending in temperature; never empty. */
export function errorAt(points: readonly TemperaturePoint[], celsius: number): Ppm {
  return ppm(linearAt(points, celsius));
}

/**
 * Linear between the points, rounded to whole ppm; beyond the ends the end values hold.
 * @param points ascending in temperature; never empty.
 */
export function linearAt(
  points: readonly { readonly celsius: number; readonly ppm: number }[],
  celsius: number,
): number {
  let below = points[0];
  for (const point of points) {
    if (point.celsius >= celsius) {
      if (below === undefined || below === point || point.celsius === celsius) return point.ppm;
      const share = (celsius - below.celsius) / (point.celsius - below.celsius);
      return below.ppm + Math.round((point.ppm - below.ppm) * share);
    }
    below = point;
  }
  return below?.ppm ?? 0;
}

/** A nominal sleep: its true length, and what the device's clock counts for it. */
export interface SleepRange {
  readonly leastMs: number;
  readonly mostMs: number;
  readonly countedMs: number;
}

/** Nominal lengths of the device's sleeps. */
export interface NominalSleeps {
  readonly checkIntervalMs: DeviceMs;
  readonly recheckIntervalMs: DeviceMs;
  readonly retryIntervalMs: DeviceMs;
}

/** With a single clock error the device counts a sleep at its true length, else at its nominal one. */
export function sleepOf(nominalMs: DeviceMs, { clockError }: TimingRanges): SleepRange {
  const { least, most } = clockErrorsOf(clockError);
  invariant(least <= most, 'a range of clock errors is not upside down', { least, most });
  const leastMs = lastsMs(nominalMs, least);
  const mostMs = lastsMs(nominalMs, most);
  return { leastMs, mostMs, countedMs: least === most ? leastMs : nominalMs };
}

type OfSleeps<Of> = readonly [check: Of, recheck: Of, retry: Of];

/** The nominal lengths of the three sleeps, in the order in which every part of the tree keeps them. */
export function nominalSleeps(watch: NominalSleeps): OfSleeps<DeviceMs> {
  return [watch.checkIntervalMs, watch.recheckIntervalMs, watch.retryIntervalMs];
}

export function longestSleepMs(watch: NominalSleeps): DeviceMs {
  const [check, recheck, retry] = nominalSleeps(watch);
  return deviceMs(Math.max(check, recheck, retry));
}

/** The same three with their true lengths. */
export function sleepsOf(watch: NominalSleeps, timing: TimingRanges): OfSleeps<SleepRange> {
  const [check, recheck, retry] = nominalSleeps(watch);
  return [sleepOf(check, timing), sleepOf(recheck, timing), sleepOf(retry, timing)];
}

/** What the device's clock must have counted when a timer of this nominal length has run out. */
export function timerMs(nominalMs: DeviceMs, { clockError }: TimingRanges): number {
  const { least, most } = clockErrorsOf(clockError);
  return least === most ? atLeastMs(nominalMs, least) : nominalMs;
}
