// How each kind of setting is read from a watch file, and how an editor checks it.
import * as z from 'zod';
import { um } from '../../base/index.js';
import type { Kind, Row, ValueOfKind } from '../../model/index.js';
import {
  chargeMeasure,
  currentMeasure,
  gapMeasure,
  type Measure,
  resistanceMeasure,
  shareMeasure,
  voltageMeasure,
} from '../quantity/measure.js';
import { durationField, flagField, measureField, numberField, wordField } from '../text/fields.js';
import { answerDelayField } from './answer-fields.js';
import {
  activityField,
  deratingField,
  selfDischargeField,
  voltageCurveField,
} from './supply-fields.js';
import { rangeField, watchClockErrorField } from './timing-fields.js';

type Field<K extends Kind> = (row: Row<K>) => z.ZodType<ValueOfKind[K]>;

const fields: { readonly [K in Kind]: Field<K> } = {
  duration: ({ help, range }) => durationField(help, range),
  durationOrOff: ({ help, range, off }) =>
    z.union([durationField(help, range, 'off'), wordField(off, ['off']).transform(() => null)]),
  timeRange: ({ help, range }) => rangeField(help, range),
  count: ({ help, range }) => numberField(help, range),
  celsius: ({ help, range }) => numberField(help, { ...range, fraction: true }),
  threshold: ({ help, range }) => thresholdField(help, range),
  flag: ({ help }) => flagField(help),
  word: ({ help, words, renamed }) => wordField(help, words, renamed),
  gap: (row) => amountField(row, gapMeasure, 'mm').transform(um),
  share: (row) => amountField(row, shareMeasure, '%'),
  clockError: () => watchClockErrorField,
  capacity: (row) => amountField(row, chargeMeasure, 'mAh'),
  current: (row) => amountField(row, currentMeasure, 'mA'),
  resistance: (row) => amountField(row, resistanceMeasure, 'kOhm'),
  voltage: (row) => amountField(row, voltageMeasure, 'V'),
  activity: activityField,
  answerDelay: answerDelayField,
  selfDischarge: ({ help }) => selfDischargeField(help),
  derating: ({ help }) => deratingField(help),
  voltageCurve: ({ help }) => voltageCurveField(help),
};

/** The definition of a row's value, without what stands in for an absent one. */
export function fieldOf<K extends Kind>(row: Row<K>): z.ZodType<ValueOfKind[K]> {
  const field: Field<K> = fields[row.kind];
  return field(row);
}

type Amount = Row<'gap' | 'share' | 'capacity' | 'current' | 'resistance' | 'voltage'>;

function amountField({ help, range }: Amount, measure: Measure, unit: string) {
  return measureField(help, measure, { ...range, unit });
}

function thresholdField(help: string, range: Row<'threshold'>['range']) {
  return z.union([
    numberField(help, { ...range, word: 'a number of checks' }).transform((open) => ({
      open,
      outOf: open,
    })),
    z
      .strictObject({
        open: numberField('How many checks must read open.', range),
        outOf: numberField('Out of how many of the last checks.', range),
      })
      .meta({ description: 'How many open checks out of the last few decide an alert.' })
      .transform((given, context) => {
        if (given.open > given.outOf) {
          const params = { code: 'open-above-out-of', expected: `at most ${String(given.outOf)}` };
          context.addIssue({
            code: 'custom',
            path: ['open'],
            message: 'is more than outOf',
            params,
          });
        }
        return given;
      }),
  ]);
}
