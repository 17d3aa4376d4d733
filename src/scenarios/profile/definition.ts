// A usage profile as a scenario writes it.

import * as z from 'zod';
import { trueMs } from '../../base/index.js';
import { factorLimits, mostDrawn, mostOpeningsAnHour, stretchLimits } from '../../model/index.js';
import { shareMeasure } from '../quantity/measure.js';
import {
  durationField,
  leaf,
  list,
  measureField,
  numberField,
  wordField,
  wrongType,
} from '../text/fields.js';
import { bad, type Decoded, good } from '../text/problem.js';
import type { DurationDistribution, GeneratedDoor, UsageProfile } from '../types.js';
import { profileNamed, profileNames } from './built-in.js';
import { daysField, fittedField, visitsField } from './definition-visits.js';

const hoursExpected = `24 numbers from 0 to ${String(mostOpeningsAnHour)}, or hours such as "6-9": 4`;

/** Openings in each hour: 24 numbers, or a map from hours to numbers, with 0 for the hours it leaves out. */
const openingsPerHour = leaf(readHours, {
  type: ['array', 'object'],
  description:
    'The expected number of openings in each hour of a local day, while the door is shut: 24 numbers, or a map such as ' +
    '{ "6-9": 4, "12": 2 }, from the first hour to before the second.',
  items: { type: 'number', minimum: 0, maximum: mostOpeningsAnHour },
  minItems: 24,
  maxItems: 24,
  patternProperties: {
    '^\\d{1,2}(-\\d{1,2})?$': { type: 'number', minimum: 0, maximum: mostOpeningsAnHour },
  },
  additionalProperties: false,
});

function isRate(value: unknown): value is number {
  return typeof value === 'number' && value >= 0 && value <= mostOpeningsAnHour;
}

function readHours(value: unknown): Decoded<readonly number[]> {
  if (typeof value !== 'object' || value === null) return wrongType(hoursExpected);
  if (Array.isArray(value)) {
    const rates = value.filter(isRate);
    if (rates.length === 24 && value.length === 24) return good(rates);
    return bad('hours-unreadable', 'must have the rates of 24 hours', { expected: hoursExpected });
  }
  const rates = Array.from({ length: 24 }, (): number | null => null);
  for (const [hours, rate] of Object.entries(value)) {
    const span = hourSpan(hours);
    if (span === null || !isRate(rate)) {
      return bad('hours-unreadable', 'has an hour or a rate that is not valid', {
        found: `${hours}: ${String(rate)}`,
        expected: hoursExpected,
      });
    }
    for (const hour of span) {
      if (rates[hour] !== null) {
        return bad('hours-twice', `has the hour ${String(hour)} twice`, {
          found: hours,
          hint: 'give each hour once',
        });
      }
      rates[hour] = rate;
    }
  }
  return good(rates.map((rate) => rate ?? 0));
}

/** `6-9` is 6, 7, 8; `22-6` runs past midnight; `7` is one hour. */
function hourSpan(text: string): readonly number[] | null {
  const [match, from = '', to] = /^(\d{1,2})(?:-(\d{1,2}))?$/.exec(text) ?? [];
  const first = Number(from);
  const end = to === undefined ? first + 1 : Number(to);
  if (match === undefined || first > 23 || end > 24 || first === end) return null;
  const count = end > first ? end - first : end + 24 - first;
  return Array.from({ length: count }, (_, index) => (first + index) % 24);
}

function distribution(description: string) {
  const fixed = durationField(description, stretchLimits);
  return z.union([
    fixed.transform((ms): DurationDistribution => ({ kind: 'fixed', ms })),
    z
      .strictObject({
        fixed: durationField('Always this long.', stretchLimits).optional(),
        exponential: z
          .strictObject({ mean: durationField('The mean.', stretchLimits) })
          .meta({ description: 'Mostly short, with this mean.' })
          .optional(),
        lognormal: z
          .strictObject({
            median: durationField('Half are shorter.', stretchLimits),
            sigma: numberField('Standard deviation of the logarithm: 0.5 is narrow, 1.5 wide.', {
              least: 0,
              most: 5,
              fraction: true,
            }),
          })
          .meta({ description: 'Around a median, with a long tail.' })
          .optional(),
        drawn: list(
          'A list of durations, each equally likely, such as those in a door log.',
          durationField('A duration.', stretchLimits),
          mostDrawn,
        ).optional(),
      })
      .meta({ description })
      .transform((given, context): DurationDistribution => {
        const { fixed: always, exponential, lognormal, drawn } = given;
        const kinds = [always, exponential, lognormal, drawn].filter((kind) => kind !== undefined);
        if (kinds.length === 1 && always !== undefined) return { kind: 'fixed', ms: always };
        if (kinds.length === 1 && exponential !== undefined) {
          return { kind: 'exponential', meanMs: exponential.mean };
        }
        if (kinds.length === 1 && lognormal !== undefined) {
          return { kind: 'lognormal', medianMs: lognormal.median, sigma: lognormal.sigma };
        }
        if (kinds.length === 1 && drawn !== undefined && drawn.length > 0) {
          return { kind: 'drawn', ms: drawn };
        }
        context.addIssue({
          code: 'custom',
          message: 'must have exactly one distribution',
          params: {
            code: 'distribution-unclear',
            expected: 'one of fixed, exponential, lognormal and drawn',
          },
        });
        return z.NEVER;
      }),
  ]);
}

const factor = { ...factorLimits, fraction: true };

/** A usage profile, in a scenario or in a file of its own. */
export const profileDefinition = z
  .strictObject({
    openingsPerHour: openingsPerHour.optional(),
    visits: visitsField(openingsPerHour).optional(),
    days: daysField.optional(),
    weekdayFactor: numberField('Factor on Monday to Friday.', factor).optional(),
    weekendFactor: numberField('Factor on Saturday and Sunday.', factor).optional(),
    duration: distribution('How long an opening lasts.').optional(),
    leaveOpen: z
      .strictObject({
        share: measureField('The share of the openings that are left open.', shareMeasure, {
          least: 0,
          most: 1_000_000,
          unit: '%',
        }),
        duration: distribution('How long the door is left open.'),
      })
      .meta({ description: 'The openings in which somebody leaves the door open.' })
      .optional(),
    fitted: fittedField.optional(),
  })
  .meta({ description: 'How the door is used.' })
  .transform((given, context): UsageProfile => {
    const wrong = wrongKeys(given);
    if (wrong !== null) {
      const { key, message, ...params } = wrong;
      context.addIssue({ code: 'custom', path: [key], message, params });
      return z.NEVER;
    }
    const { leaveOpen, visits, days, duration: length, fitted } = given;
    return {
      openingsPerHour: visits?.openingsPerHour ?? given.openingsPerHour ?? noOpenings,
      weekdayFactor: visits?.weekdayFactor ?? given.weekdayFactor ?? 1,
      weekendFactor: visits?.weekendFactor ?? given.weekendFactor ?? 1,
      duration: length ?? { kind: 'fixed', ms: trueMs(1) },
      leaveOpen:
        leaveOpen === undefined
          ? null
          : { share: leaveOpen.share / 1_000_000, duration: leaveOpen.duration },
      ...(visits === undefined ? {} : { visits: visits.habit }),
      ...(days === undefined ? {} : { days }),
      ...(fitted === undefined ? {} : { fitted }),
    };
  });

const noOpenings: readonly number[] = Array.from({ length: 24 }, () => 0);

/** One of rates, visits and days says when the door is opened; days say everything. */
function wrongKeys(given: Readonly<Record<string, unknown>>) {
  const has = (key: string): boolean => given[key] !== undefined;
  const ways = ['openingsPerHour', 'visits', 'days'].filter(has);
  const [way, second] = ways;
  if (way === undefined) {
    const expected = 'openingsPerHour, visits or days';
    return { key: 'openingsPerHour', message: 'is missing', code: 'missing-key', expected };
  }
  if (second !== undefined) {
    const hint = `keep ${way} or ${second}`;
    return { key: second, message: `has no place beside ${way}`, code: 'rates-twice', hint };
  }
  const unfit = (way === 'days' ? ['duration', 'leaveOpen'] : []).concat(
    way === 'openingsPerHour' ? [] : ['weekdayFactor', 'weekendFactor'],
  );
  const extra = unfit.find(has);
  if (extra !== undefined) {
    const hint = way === 'days' ? 'delete the line' : 'write weekday and weekend under visits';
    return { key: extra, message: `has no place beside ${way}`, code: 'rates-twice', hint };
  }
  if (way === 'days' || has('duration')) return null;
  const expected = 'a duration, or one of exponential, lognormal and drawn';
  return { key: 'duration', message: 'is missing', code: 'missing-key', expected };
}

/** The seed of a random stream: text, or a whole number that stands for its digits. */
export const seedField = leaf(
  (value): Decoded<string> => {
    if (typeof value === 'number' && Number.isSafeInteger(value)) return good(String(value));
    if (typeof value !== 'string') return wrongType('text or a whole number');
    return value.length <= 200 ? good(value) : bad('text-too-long', 'has more than 200 characters');
  },
  { type: ['string', 'integer'], description: 'The same seed gives the same random numbers.' },
);

export const generateField = z
  .strictObject({
    profile: z.union([
      wordField('A profile that comes with dozewatch.', profileNames).transform(profileNamed),
      profileDefinition,
    ]),
    seed: seedField.optional(),
  })
  .meta({
    description:
      'Generates openings at random from a usage profile, in addition to those under door.',
  })
  .transform((given): GeneratedDoor => ({ profile: given.profile, seed: given.seed ?? null }));
