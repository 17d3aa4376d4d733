// The `supply:` section: the battery, and what each activity takes from it.
import * as z from 'zod';
import { chargeMeasure, currentMeasure, shareMeasure } from '../quantity/measure.js';
import { durationField, measureField, section } from '../text/fields.js';
import type { ActivityDraw, SupplySettings } from '../types.js';

const share = { least: 0, most: 1_000_000, unit: '%' } as const;

function currentField(description: string) {
  const range = { least: 0, most: 10_000_000_000, unit: 'mA' };
  return measureField(description, currentMeasure, range);
}

function activity(description: string) {
  return z
    .strictObject({
      current: currentField('What it draws.'),
      time: durationField('How long each time; by default as long as in the simulation.', {
        least: 0,
        most: 3_600_000,
      }).optional(),
    })
    .meta({ description })
    .transform(({ current, time }): ActivityDraw => ({ currentNa: current, timeMs: time ?? null }))
    .optional();
}

export const supplySection = section('The battery: only `battery` reads it.', {
  capacity: measureField('What a full charge holds.', chargeMeasure, {
    least: 1_000,
    most: 1_000_000_000_000_000,
    unit: 'mAh',
  }),
  usable: measureField('The share of it that the device can use.', shareMeasure, {
    ...share,
    least: 1,
  }).prefault('100%'),
  selfDischargePerMonth: measureField(
    'The share of the capacity lost in every 30 days without use.',
    shareMeasure,
    share,
  ).prefault('0%'),
  sleepCurrent: currentField('What it draws asleep.'),
  boot: activity('From the wake to the check.'),
  connect: activity('While it connects and sends.'),
  hold: activity('Awake and idle after an alert, with `hold-until-reset`.'),
  blink: activity('One blink of the lamp; its time has to be given.'),
}).transform((given, context): SupplySettings => {
  const { boot, connect, hold, blink } = given;
  if (blink?.timeMs === null) {
    const params = { code: 'missing-key', hint: 'a blink has no length of its own: time: 200ms' };
    context.addIssue({ code: 'custom', path: ['blink', 'time'], message: 'is missing', params });
  }
  return {
    capacityNah: given.capacity,
    usablePpm: given.usable,
    selfDischargePpmPerMonth: given.selfDischargePerMonth,
    sleepNa: given.sleepCurrent,
    boot: boot ?? null,
    connect: connect ?? null,
    hold: hold ?? null,
    blink: blink ?? null,
  };
});
