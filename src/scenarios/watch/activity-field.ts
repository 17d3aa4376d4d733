// What one activity draws, as a file gives it: a current and perhaps a time, or a charge.

import * as z from 'zod';
import { type ActivityDraw } from '../../model/index.js';
import { actChargeMeasure, currentMeasure } from '../quantity/measure.js';
import { durationField, measureField } from '../text/fields.js';

const mostNa = 10_000_000_000;
/** 3,600 coulombs: one ampere for an hour. */
const mostPc = 3_600_000_000_000_000;

export function currentField(description: string) {
  const range = { least: 0, most: mostNa, unit: 'mA' };
  return measureField(description, currentMeasure, range);
}

/** `{ current: 31mA }`, `{ current: 4mA, time: 200ms }` or `{ charge: 3.8mC }`. */
export function activityField(description: string) {
  return z
    .strictObject({
      current: currentField('What it draws.').optional(),
      time: durationField('How long each time; by default as long as in the simulation.', {
        least: 0,
        most: 3_600_000,
      }).optional(),
      charge: measureField('What it takes each time, in place of a current.', actChargeMeasure, {
        least: 0,
        most: mostPc,
        unit: 'mC',
      }).optional(),
    })
    .meta({ description })
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
        complain('draw-twice', 'has a charge and a current or time', forms);
      }
      return charge === undefined
        ? { kind: 'current', currentNa: current ?? 0, timeMs: time ?? null }
        : { kind: 'charge', chargePc: charge };
    });
}
