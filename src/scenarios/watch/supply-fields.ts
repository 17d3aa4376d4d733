// Values of the `supply:` section that have several parts: activities, self-discharge, curves.
import * as z from 'zod';
import {
  type ActivityDraw,
  actChargeLimits,
  celsiusLimits,
  currentLimits,
  mostCurvePoints,
  type Row,
  shareLimits,
  voltageLimits,
  workLimits,
} from '../../model/index.js';
import {
  actChargeMeasure,
  currentMeasure,
  shareMeasure,
  voltageMeasure,
} from '../quantity/measure.js';
import { durationField, list, measureField, numberField } from '../text/fields.js';

const celsius = numberField('Temperature in °C.', { ...celsiusLimits, fraction: true });

function shareField(description: string) {
  return measureField(description, shareMeasure, { ...shareLimits, unit: '%' });
}

/** `{ current: 31mA }`, `{ current: 4mA, time: 200ms }` or `{ charge: 3.8mC }`. */
export function activityField({ help, parts }: Row<'activity'>) {
  return z
    .strictObject({
      current: measureField(parts.current, currentMeasure, {
        ...currentLimits,
        unit: 'mA',
      }).optional(),
      time: durationField(parts.time, workLimits).optional(),
      charge: measureField(parts.charge, actChargeMeasure, {
        ...actChargeLimits,
        unit: 'mC',
      }).optional(),
    })
    .meta({ description: help })
    .transform((given, context): ActivityDraw => {
      const { current, time, charge } = given;
      const complain = (code: string, says: string, hint: string): void => {
        context.addIssue({ code: 'custom', message: says, params: { code, hint } });
      };
      const forms = 'write { current: 31mA }, { current: 31mA, time: 2s } or { charge: 3.8mC }';
      if (current === undefined && charge === undefined) {
        complain('draw-without-amount', 'has neither a current nor a charge', forms);
      }
      if (charge !== undefined && (current !== undefined || time !== undefined)) {
        complain('draw-twice', 'has both a charge and a current or time', forms);
      }
      return charge === undefined
        ? { kind: 'current', currentNa: current ?? 0, timeMs: time ?? null }
        : { kind: 'charge', chargePc: charge };
    });
}

/** A share in every 30 days, or the parts of the loss. */
export function selfDischargeField(help: string) {
  return z.union([
    shareField(help).transform((perMonthPpm) => ({
      firstDayPpm: 0,
      perMonthPpm,
      protectionPerMonthPpm: 0,
    })),
    z
      .strictObject({
        firstDay: shareField('The share lost within a day of charging, once.').prefault('0%'),
        perMonth: shareField('The share lost in every 30 days.').prefault('0%'),
        protectionPerMonth: shareField(
          'The share that the protection circuit uses in every 30 days.',
        ).prefault('0%'),
      })
      .meta({ description: 'The parts of the self-discharge, as shares of the capacity.' })
      .transform(({ firstDay, perMonth, protectionPerMonth }) => ({
        firstDayPpm: firstDay,
        perMonthPpm: perMonth,
        protectionPerMonthPpm: protectionPerMonth,
      })),
  ]);
}

export function deratingField(help: string) {
  const share = shareField('The share of the capacity that is left at this temperature.');
  return list(help, z.strictObject({ celsius, share }), mostCurvePoints);
}

export function voltageCurveField(help: string) {
  const point = z.strictObject({
    left: shareField('The share of a full charge that is left.'),
    voltage: measureField('The voltage at this charge.', voltageMeasure, {
      ...voltageLimits,
      unit: 'V',
    }),
  });
  return list(help, point, mostCurvePoints);
}
