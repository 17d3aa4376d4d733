// What a fitted profile writes beyond rates and lengths: visits, the days of a log, and what it was fitted to.
import * as z from 'zod';
import { trueMs } from '../../base/index.js';
import {
  factorLimits,
  mostDrawn,
  mostFactors,
  mostListedInVisit,
  mostLoggedDays,
  mostOpeningsAVisit,
  mostResamples,
  stretchLimits,
} from '../../model/index.js';
import { readDuration } from '../quantity/duration.js';
import { durationField, leaf, list, numberField, wordField, wrongType } from '../text/fields.js';
import { bad, type Decoded, good } from '../text/problem.js';
import type {
  CountDistribution,
  DurationDistribution,
  FittedTo,
  LoggedDay,
  VisitHabit,
} from '../types.js';

/** The keys that a kind of distribution takes: all of them, and no other. */
function needs<Kind extends string>(keys: Readonly<Record<Kind, readonly string[]>>) {
  return (given: Readonly<Record<string, unknown>> & { readonly kind: Kind }): string | null => {
    const has = Object.keys(given).filter((key) => key !== 'kind' && given[key] !== undefined);
    const wanted = keys[given.kind];
    const fits = has.length === wanted.length && wanted.every((key) => has.includes(key));
    return fits ? null : `kind: ${given.kind} with ${wanted.join(' and ')}, and nothing else`;
  };
}

const unclear = { code: 'custom', message: 'does not fit its kind' } as const;

const mean = numberField('The mean number of openings of a visit.', {
  least: 1,
  most: mostOpeningsAVisit,
  fraction: true,
});
const needsOfCounts = needs({
  fixed: ['count'],
  geometric: ['mean'],
  poisson: ['mean'],
  drawn: ['counts'],
});

const countsField = z
  .strictObject({
    kind: wordField('How the number of openings varies; poisson: one, and further ones.', [
      'fixed',
      'geometric',
      'poisson',
      'drawn',
    ]),
    count: numberField('Always this many.', { least: 1, most: mostListedInVisit }).optional(),
    mean: mean.optional(),
    counts: list(
      'Numbers, each equally likely.',
      numberField('A number of openings.', { least: 1, most: mostListedInVisit }),
      mostDrawn,
    ).optional(),
  })
  .meta({ description: 'How many openings a visit has.' })
  .transform((given, context): CountDistribution => {
    const { kind, count, mean: average, counts = [] } = given;
    const wrong =
      needsOfCounts(given) ?? (kind === 'drawn' && counts.length === 0 ? 'a count' : null);
    if (wrong !== null) {
      context.addIssue({ ...unclear, params: { code: 'distribution-unclear', expected: wrong } });
      return z.NEVER;
    }
    if (kind === 'fixed') return { kind, count: count ?? 1 };
    return kind === 'drawn' ? { kind, counts } : { kind, mean: average ?? 1 };
  });

const needsOfGaps = needs({
  fixed: ['time'],
  exponential: ['mean'],
  lognormal: ['median', 'sigma'],
  drawn: ['times'],
});

const gapField = z
  .strictObject({
    kind: wordField('How the gap varies.', ['fixed', 'exponential', 'lognormal', 'drawn']),
    time: durationField('Always this long.', stretchLimits).optional(),
    mean: durationField('The mean.', stretchLimits).optional(),
    median: durationField('Half are shorter.', stretchLimits).optional(),
    sigma: numberField('Standard deviation of the logarithm.', {
      least: 0,
      most: 5,
      fraction: true,
    }).optional(),
    times: list(
      'Times, each equally likely.',
      durationField('A time.', stretchLimits),
      mostDrawn,
    ).optional(),
  })
  .meta({ description: 'How long the door is shut between two openings of a visit.' })
  .transform((given, context): DurationDistribution => {
    const { kind, time, mean: average, median, sigma, times = [] } = given;
    const wrong = needsOfGaps(given) ?? (kind === 'drawn' && times.length === 0 ? 'a time' : null);
    if (wrong !== null) {
      context.addIssue({ ...unclear, params: { code: 'distribution-unclear', expected: wrong } });
      return z.NEVER;
    }
    const one = trueMs(1);
    if (kind === 'fixed') return { kind, ms: time ?? one };
    if (kind === 'exponential') return { kind, meanMs: average ?? one };
    if (kind === 'lognormal') return { kind, medianMs: median ?? one, sigma: sigma ?? 0 };
    return { kind, ms: times };
  });

function correlation(description: string) {
  return numberField(description, { least: -0.99, most: 0.99, fraction: true }).prefault(0);
}

const dependenceField = z
  .strictObject({
    lengths: correlation('Of the lengths of two openings in a row.'),
    gapAfter: correlation('Of the length of an opening and the gap after it.'),
    lengthAfter: correlation('Of a gap and the length of the opening after it.'),
  })
  .meta({
    description:
      'Correlations of neighbours within a visit, of their normal scores. Without it they are independent.',
  })
  .transform((given, context) => {
    const { lengths: a, gapAfter: b, lengthAfter: c } = given;
    if (1 - a * a - b * b - c * c + 2 * a * b * c >= 0) return given;
    context.addIssue({
      code: 'custom',
      message: 'has three correlations that cannot occur together',
      params: { code: 'correlations-impossible', hint: 'make one of them smaller' },
    });
    return z.NEVER;
  });

const factor = { ...factorLimits, fraction: true };

/** `visits:`; `perHour` is read as `openingsPerHour` is. */
export function visitsField(perHour: z.ZodType<readonly number[]>) {
  return z
    .strictObject({
      perHour,
      weekday: numberField('Factor on Monday to Friday.', factor).prefault(1),
      weekend: numberField('Factor on Saturday and Sunday.', factor).prefault(1),
      openings: countsField,
      gap: gapField.optional(),
      dependence: dependenceField.optional(),
    })
    .meta({
      description:
        'Visits of several openings each, in place of openingsPerHour. No visit begins during another.',
    })
    .transform((given, context) => {
      const { perHour: openingsPerHour, weekday, weekend, openings, gap, dependence } = given;
      const isSingle = openings.kind === 'fixed' && openings.count === 1;
      if (gap === undefined && !isSingle) {
        context.addIssue({
          code: 'custom',
          message: 'is missing',
          path: ['gap'],
          params: { code: 'missing-key', expected: 'such as { kind: exponential, mean: 30s }' },
        });
        return z.NEVER;
      }
      const habit: VisitHabit = {
        openings,
        gap: gap ?? { kind: 'fixed', ms: trueMs(1) },
        ...(dependence === undefined ? {} : { dependence }),
      };
      return { openingsPerHour, weekdayFactor: weekday, weekendFactor: weekend, habit };
    });
}

const openingForm = /^\s*(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d{1,3})?))?\s+for\s+(\S+)\s*$/u;
const openingExample = '"08:15:20 for 40s"';

/** `08:15:20 for 40s`; hours go on to 24 on the day the clocks go back. */
function readOpening(value: unknown): Decoded<LoggedDay['openings'][number]> {
  if (typeof value !== 'string') return wrongType(`an opening such as ${openingExample}`);
  const [match, hour = '', minute = '', second = '0', length = ''] = openingForm.exec(value) ?? [];
  const lasts = readDuration(length);
  const [hours, minutes, seconds] = [Number(hour), Number(minute), Number(second)];
  if (
    match === undefined ||
    !lasts.ok ||
    lasts.value < 1 ||
    hours > 24 ||
    minutes > 59 ||
    seconds >= 60
  ) {
    return bad('opening-unreadable', 'is not an opening', {
      found: value,
      expected: `the time of day and a length, such as ${openingExample}`,
    });
  }
  const atMs = hours * 3_600_000 + minutes * 60_000 + Math.round(seconds * 1_000);
  return good({ atMs, forMs: Math.min(stretchLimits.most, lasts.value) });
}

const openingField = leaf(readOpening, {
  type: 'string',
  description: 'The time of day at which the door was opened, and how long it stayed open.',
  examples: ['08:15:20 for 40s'],
});

export const daysField = list(
  'The days of a log. Each day of a generated timeline is one of them, picked at random, of the same kind where there is one.',
  z
    .strictObject({
      on: wordField('Which kind of day it was.', ['weekday', 'weekend']),
      openings: list('Its openings.', openingField, mostDrawn),
    })
    .transform(({ on, openings }): LoggedDay => ({ weekend: on === 'weekend', openings })),
  mostLoggedDays,
);

const large = { least: 0, most: Number.MAX_SAFE_INTEGER, fraction: true };

export const fittedField = z
  .strictObject({
    days: numberField('Days that the log covers.', { ...large, least: 0.001 }),
    openings: numberField('Openings in the log.', large),
    leaveOpens: numberField('How many of them were left open.', large),
    leaveOpensApart: numberField(
      'As many independent ones as they are worth: fewer where several come on one day.',
      large,
    ).optional(),
    leaveOpenAfter: durationField(
      'From when on an opening counted as left open.',
      stretchLimits,
    ).optional(),
    resamples: list(
      'Fits to resampled days of the log, as factors on the profile: visits, their openings, median and sigma of ' +
        'gaps, median and sigma of lengths, share, median and sigma of leave-opens.',
      list('One fit.', numberField('A factor.', factor), mostFactors),
      mostResamples,
    ).prefault([]),
  })
  .meta({
    description: 'What dozewatch profile fitted this to. Intervals of estimate and tune use it.',
  })
  .transform(
    ({ leaveOpenAfter, leaveOpensApart, ...given }): FittedTo => ({
      ...given,
      ...(leaveOpensApart === undefined ? {} : { leaveOpensApart }),
      ...(leaveOpenAfter === undefined ? {} : { leaveOpenAfterMs: leaveOpenAfter }),
    }),
  );
