// Device times and clock errors as files give them: one value, a range, or (in scenarios) a list taken in turn.
import * as z from 'zod';
import { durationText, type Ppm, ppm } from '../../base/index.js';
import type { ClockError, VaryingMs } from '../../world/index.js';
import { errorMeasure } from '../quantity/measure.js';
import { durationField, list, measureField, numberField, type Range } from '../text/fields.js';
import type { TemperaturePoint } from '../types.js';

/** Whole ppm: a clock never runs backwards, and none here sleeps three times too long. */
export const clockErrorRange = { least: -900_000, most: 2_000_000, unit: '%' } as const;

const mostInTurn = 10_000;

function minAboveMax(context: z.core.$RefinementCtx, expected: string): void {
  const params = { code: 'min-above-max', expected };
  context.addIssue({ code: 'custom', path: ['min'], message: 'is more than max', params });
}

/** A duration, or `{ min, max }` to draw it from. */
export function varyingField(description: string, range: Range) {
  const least = durationField('The shortest it may be.', range);
  const most = durationField('The longest it may be.', range);
  const fixed = durationField(description, range).transform(
    (ms): VaryingMs => ({ kind: 'fixed', ms }),
  );
  const drawn = z
    .strictObject({ min: least, max: most })
    .meta({ description: `${description} Drawn anew each time.` })
    .transform(({ min, max }, context): VaryingMs => {
      if (min > max) minAboveMax(context, `at most ${durationText(max)}`);
      return { kind: 'range', leastMs: min, greatestMs: max };
    });
  return z.union([fixed, drawn]);
}

/** The same, or a list: one after the other, the last one stays. */
export function varyingInTurnField(description: string, range: Range) {
  const inTurn = z
    .array(durationField(description, range))
    .max(mostInTurn)
    .meta({ description: 'One after the other; the last one stays.', minItems: 1 })
    .transform((ms, context): VaryingMs => {
      if (ms.length === 0) emptyList(context);
      return { kind: 'inTurn', ms };
    });
  return z.union([...varyingField(description, range).options, inTurn]);
}

function emptyList(context: z.core.$RefinementCtx): void {
  const params = { code: 'empty-list', hint: 'give at least one value' };
  context.addIssue({ code: 'custom', message: 'is an empty list', params });
}

function errorField(description: string) {
  return measureField(description, errorMeasure, clockErrorRange).transform(ppm);
}

const errorText =
  'How wrong the sleep clock runs: a sleep lasts (1 + error) × its nominal length. ' +
  'In % or ppm, whole ppm.';

const fixedError = errorField(errorText).transform(
  (error): ClockError => ({ kind: 'fixed', ppm: error }),
);

function drawnError(bounds: { min: Ppm; max: Ppm }): ClockError {
  return { kind: 'drawn', leastPpm: bounds.min, greatestPpm: bounds.max };
}

/** Clock error of a scenario: one value, a range it is drawn from once a run, or one a sleep in turn. */
export const clockErrorInTurnField = z.union([
  fixedError,
  z
    .strictObject({
      min: errorField('The least it may be.'),
      max: errorField('The most it may be.'),
    })
    .meta({ description: 'Drawn once a run.' })
    .transform((bounds, context) => {
      if (bounds.min > bounds.max) minAboveMax(context, 'at most max');
      return drawnError(bounds);
    }),
  z
    .array(errorField(errorText))
    .max(mostInTurn)
    .meta({ description: 'One a sleep; the last one stays.', minItems: 1 })
    .transform((errors, context): ClockError => {
      if (errors.length === 0) emptyList(context);
      return { kind: 'inTurn', ppm: errors };
    }),
]);

/** Clock error of a watch file, perhaps by temperature. */
export interface WatchClockError {
  readonly error: ClockError | null;
  /** Ascending in temperature; null: temperature does not matter. */
  readonly byTemperature: readonly TemperaturePoint[] | null;
}

const temperaturePoint = z.strictObject({
  celsius: numberField('Temperature in °C.', { least: -100, most: 200, fraction: true }),
  error: errorField('The clock error at this temperature.'),
});

/** Clock error of a watch file: one value, a range, or a curve over the temperature. */
export const watchClockErrorField = z.union([
  fixedError.transform((error): WatchClockError => ({ error, byTemperature: null })),
  z
    .strictObject({
      min: errorField('The least it may be.').optional(),
      max: errorField('The most it may be.').optional(),
      byTemperature: list(
        'Points of a curve, straight lines in between; beyond its ends the end values hold.',
        temperaturePoint,
        1_000,
      ).optional(),
    })
    .meta({ description: 'A range from which it is drawn once a run, or a curve.' })
    .transform(watchClockError),
]);

function watchClockError(
  given: {
    readonly min?: Ppm | undefined;
    readonly max?: Ppm | undefined;
    readonly byTemperature?:
      | readonly { readonly celsius: number; readonly error: Ppm }[]
      | undefined;
  },
  context: z.core.$RefinementCtx,
): WatchClockError {
  const { min, max, byTemperature } = given;
  const complain = (path: string[], code: string, message: string, hint?: string): void => {
    context.addIssue({ code: 'custom', path, message, params: { code, hint } });
  };
  if (byTemperature !== undefined) {
    if (min !== undefined || max !== undefined) {
      complain([], 'clock-error-twice', 'has both a range and a curve', 'keep one of the two');
    }
    if (byTemperature.length === 0) complain(['byTemperature'], 'empty-list', 'is an empty list');
    const points = byTemperature
      .map(({ celsius, error }) => ({ celsius, ppm: error }))
      .sort((a, b) => a.celsius - b.celsius);
    if (points.some(({ celsius }, index) => celsius === points[index + 1]?.celsius)) {
      complain(['byTemperature'], 'temperature-twice', 'names a temperature twice');
    }
    return { error: null, byTemperature: points };
  }
  if (min === undefined) complain(['min'], 'missing-key', 'is missing');
  if (max === undefined) complain(['max'], 'missing-key', 'is missing');
  const bounds = { min: min ?? ppm(0), max: max ?? ppm(0) };
  if (min !== undefined && max !== undefined && min > max) minAboveMax(context, 'at most max');
  return { error: drawnError(bounds), byTemperature: null };
}
