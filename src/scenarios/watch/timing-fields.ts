// Device times and clock errors as files give them: one value, a range, or (in scenarios) a list taken in turn.
import * as z from 'zod';
import { durationText, type Ppm, ppm, trueMs } from '../../base/index.js';
import {
  type ClockErrorRange,
  celsiusLimits,
  clockErrorLimits,
  mostCurvePoints,
  mostInTurn,
  type RangeMs,
  settings,
  sleepLimits,
} from '../../model/index.js';
import type { ClockError, VaryingMs } from '../../world/index.js';
import { errorMeasure, writeMeasure } from '../quantity/measure.js';
import {
  durationField,
  durationForm,
  list,
  measureField,
  measureForm,
  numberField,
  orRange,
  type Range,
} from '../text/fields.js';

const clockErrorRange = { ...clockErrorLimits, unit: '%' } as const;

/** A sleep that errs may last three times its longest nominal length. */
const sleepLength = { least: 0, most: 3 * sleepLimits.most };

function minAboveMax(context: z.core.$RefinementCtx, expected: string): void {
  const params = { code: 'min-above-max', expected };
  context.addIssue({ code: 'custom', path: ['min'], message: 'is more than max', params });
}

/** A duration, or a range to draw it from: `3s..9s` or `{ min, max }`. */
export function rangeField(description: string, range: Range) {
  const least = durationField('The shortest it may be.', range);
  const most = durationField('The longest it may be.', range);
  const written = orRange(durationForm(description, range), '3s..9s');
  const drawn = z
    .strictObject({ min: least, max: most })
    .meta({ description: `${description} Each time is picked from this range at random.` })
    .transform(({ min, max }, context): RangeMs => {
      if (min > max) minAboveMax(context, `at most ${durationText(max)}`);
      return { least: min, most: max };
    });
  return z.union([written, drawn]);
}

/** The same, or a list: one after the other, the last one stays. */
export function varyingInTurnField(description: string, range: Range) {
  const [written, drawn] = rangeField(description, range).options;
  const inTurn = z
    .array(durationField(description, range))
    .max(mostInTurn)
    .meta({
      description: 'Values that are used in turn; the last one is used from then on.',
      minItems: 1,
    })
    .transform((ms, context): VaryingMs => {
      if (ms.length === 0) emptyList(context);
      return { kind: 'inTurn', ms };
    });
  return z.union([
    written.transform(
      ({ least, most }): VaryingMs =>
        least === most
          ? { kind: 'fixed', ms: trueMs(least) }
          : { kind: 'range', leastMs: trueMs(least), greatestMs: trueMs(most) },
    ),
    drawn.transform(({ least, most }): VaryingMs => {
      return { kind: 'range', leastMs: trueMs(least), greatestMs: trueMs(most) };
    }),
    inTurn,
  ]);
}

function emptyList(context: z.core.$RefinementCtx, path: string[] = []): void {
  const params = { code: 'empty-list', hint: 'give at least one value' };
  context.addIssue({ code: 'custom', path, message: 'is an empty list', params });
}

function errorField(description: string) {
  return measureField(description, errorMeasure, clockErrorRange).transform(ppm);
}

/** One error, or a range as text. */
function errorOrRange(description: string) {
  return orRange(measureForm(description, errorMeasure, clockErrorRange), '-2%..2%');
}

const errorText = settings.device.keys.clockError.help;

function errorRange(
  { min, max }: { readonly min?: Ppm | undefined; readonly max?: Ppm | undefined },
  context: z.core.$RefinementCtx,
): { readonly least: Ppm; readonly most: Ppm } {
  for (const [key, bound] of [
    ['min', min],
    ['max', max],
  ] as const) {
    const params = { code: 'missing-key' };
    if (bound === undefined) {
      context.addIssue({ code: 'custom', path: [key], message: 'is missing', params });
    }
  }
  if (min !== undefined && max !== undefined && min > max) {
    minAboveMax(context, `at most ${writeMeasure(errorMeasure, max, '%')}`);
  }
  return { least: min ?? ppm(0), most: max ?? ppm(0) };
}

/** Clock error of a scenario: one value, a range it is drawn from once a run, one a sleep, or whole sleeps. */
export const clockErrorInTurnField = z.union([
  errorOrRange(errorText).transform(
    ({ least, most }): ClockError =>
      least === most
        ? { kind: 'fixed', ppm: ppm(least) }
        : { kind: 'drawn', leastPpm: ppm(least), greatestPpm: ppm(most) },
  ),
  z
    .strictObject({
      min: errorField('The least it may be.').optional(),
      max: errorField('The most it may be.').optional(),
      sleeps: z
        .array(durationField('How long this sleep lasts in true time.', sleepLength))
        .max(mostInTurn)
        .meta({
          description: 'True lengths of the sleeps, in turn; later sleeps have no error.',
        })
        .optional(),
    })
    .meta({
      description:
        'With min and max, one error between them is picked at random for each run. With sleeps, each sleep lasts as long as listed.',
    })
    .transform(({ min, max, sleeps }, context): ClockError => {
      if (sleeps === undefined) {
        const { least, most } = errorRange({ min, max }, context);
        return { kind: 'drawn', leastPpm: least, greatestPpm: most };
      }
      if (min !== undefined || max !== undefined) errorTwice(context, 'a range and sleeps');
      return { kind: 'sleeps', ms: sleeps };
    }),
  z
    .array(errorField(errorText))
    .max(mostInTurn)
    .meta({
      description: 'One value for each sleep; the last one is used from then on.',
      minItems: 1,
    })
    .transform((errors, context): ClockError => {
      if (errors.length === 0) emptyList(context);
      return { kind: 'inTurn', ppm: errors };
    }),
]);

function errorTwice(context: z.core.$RefinementCtx, what: string): void {
  const params = { code: 'clock-error-twice', hint: 'delete one of the two' };
  context.addIssue({ code: 'custom', message: `has both ${what}`, params });
}

const temperaturePoint = z.strictObject({
  celsius: numberField('Temperature in °C.', { ...celsiusLimits, fraction: true }),
  error: errorField('The clock error at this temperature.'),
});

/** Clock error of a watch file: one value, a range, or a curve over the temperature. */
export const watchClockErrorField = z.union([
  errorOrRange(errorText).transform(
    ({ least, most }): ClockErrorRange => ({ kind: 'range', least: ppm(least), most: ppm(most) }),
  ),
  z
    .strictObject({
      min: errorField('The least it may be.').optional(),
      max: errorField('The most it may be.').optional(),
      byTemperature: list(
        'Points of a curve, with straight lines in between. Outside the curve, its nearest end is used.',
        temperaturePoint,
        mostCurvePoints,
      ).optional(),
    })
    .meta({
      description:
        'A range from which one value is picked at random for each run, or a curve over the temperature.',
    })
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
): ClockErrorRange {
  const { min, max, byTemperature } = given;
  if (byTemperature === undefined) return { kind: 'range', ...errorRange(given, context) };
  if (min !== undefined || max !== undefined) errorTwice(context, 'a range and a curve');
  if (byTemperature.length === 0) emptyList(context, ['byTemperature']);
  const points = byTemperature
    .map(({ celsius, error }) => ({ celsius, ppm: error }))
    .sort((a, b) => a.celsius - b.celsius);
  if (points.some(({ celsius }, index) => celsius === points[index + 1]?.celsius)) {
    const params = { code: 'temperature-twice', hint: 'delete one of them' };
    const message = 'has two points at the same temperature';
    context.addIssue({ code: 'custom', path: ['byTemperature'], message, params });
  }
  return { kind: 'byTemperature', points };
}
