// Quantities carry their unit in the type: a number that is a true instant cannot be passed where the
// device's own idea of time is asked for. This file is the one place that brands plain numbers.
import { invariant } from './invariant.js';

declare const unit: unique symbol;
type Quantity<Unit extends string> = number & { readonly [unit]: Unit };

/** Whole milliseconds of true time: an instant counted from the start of the timeline, or a duration. */
export type TrueMs = Quantity<'true ms'>;
/** Whole milliseconds as the device counts them: nominal intervals, before the clock error. */
export type DeviceMs = Quantity<'device ms'>;
/** Whole micrometres of gap between door and frame. */
export type Um = Quantity<'µm'>;
/** Whole parts per million of clock error: a nominal sleep N lasts N × (1 + ppm / 10⁶) of true time. */
export type Ppm = Quantity<'ppm'>;

export const minuteMs = 60_000;
export const hourMs = 3_600_000;
export const dayMs = 86_400_000;
export const weekMs = 604_800_000;
/** A device-year, in which use is drawn and rates are counted: 365 days. */
export const yearMs = 31_536_000_000;
/** A year of the calendar on average, for lives and limits: a Julian year. */
export const meanYearMs = 31_557_600_000;

/** As `Temporal` counts them, from 1 on. */
export const weekdays = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;

/** @throws InvariantError when `value` is not a safe integer. */
export function trueMs(value: number): TrueMs {
  invariant(Number.isSafeInteger(value), 'an instant is whole milliseconds', { value });
  return value as TrueMs;
}

/** @throws InvariantError when `value` is not a safe integer. */
export function deviceMs(value: number): DeviceMs {
  invariant(Number.isSafeInteger(value), 'a device time is whole milliseconds', { value });
  return value as DeviceMs;
}

/** @throws InvariantError when `value` is not a safe integer. */
export function um(value: number): Um {
  invariant(Number.isSafeInteger(value), 'a gap is whole micrometres', { value });
  return value as Um;
}

/** @throws InvariantError when `value` is not a whole number over −10⁶ (a clock that stands still). */
export function ppm(value: number): Ppm {
  invariant(Number.isSafeInteger(value) && value > -1_000_000, 'a clock error is whole ppm', {
    value,
  });
  return value as Ppm;
}

/**
 * How long a nominal device interval lasts in true time: `nominal × (1 + error)`, rounded to the nearest
 * whole millisecond (a half goes up).
 */
export function lastsMs(nominal: DeviceMs, error: Ppm): TrueMs {
  const product = nominal * error;
  invariant(Number.isSafeInteger(product), 'interval times clock error fits 53 bits', {
    nominal,
    error,
  });
  return (nominal + Math.round(product / 1_000_000)) as TrueMs;
}

/** The least whole true time that is at least `nominal × (1 + error)`: when a device-clock timer has run out. */
export function atLeastMs(nominal: DeviceMs, error: Ppm): TrueMs {
  const product = nominal * error;
  invariant(Number.isSafeInteger(product), 'interval times clock error fits 53 bits', {
    nominal,
    error,
  });
  return (nominal + Math.ceil(product / 1_000_000)) as TrueMs;
}
