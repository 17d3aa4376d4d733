// The watch file as one definition: what may stand in it, in which range, and what holds when it does not.
import * as z from 'zod';
import { um } from '../../base/index.js';
import {
  attemptLimits,
  bounceLimits,
  checkLimits,
  defaults,
  gapLimits,
  heartbeatLimits,
  lengthLimits,
  sleepLimits,
  stretchLimits,
  workLimits,
} from '../../model/index.js';
import { gapMeasure } from '../quantity/measure.js';
import {
  durationField,
  flagField,
  measureField,
  numberField,
  section,
  textField,
  wordField,
} from '../text/fields.js';
import { environmentSection } from './environment-fields.js';
import { supplySection } from './supply-fields.js';
import { rangeField, watchClockErrorField } from './timing-fields.js';

const threshold = z.union([
  numberField('So many open checks in a row decide an alert; or so many out of the last few.', {
    ...checkLimits,
    word: 'a number of checks',
  }).transform((open) => ({ open, outOf: open })),
  z
    .strictObject({
      open: numberField('How many checks have to read open.', checkLimits),
      outOf: numberField('Out of how many last checks.', checkLimits),
    })
    .meta({ description: 'So many open checks out of the last few decide an alert.' })
    .transform((given, context) => {
      if (given.open > given.outOf) {
        const params = { code: 'open-above-out-of', expected: `at most ${String(given.outOf)}` };
        context.addIssue({ code: 'custom', path: ['open'], message: 'is more than outOf', params });
      }
      return given;
    }),
]);

const watch = section('What the device does.', {
  checkInterval: durationField('Sleep between checks.', sleepLimits).prefault(
    defaults.watch.checkInterval,
  ),
  recheckInterval: durationField(
    'Sleep after an open check that is not yet an alert. Default: checkInterval.',
    sleepLimits,
  ).optional(),
  escalationThreshold: threshold.prefault(defaults.watch.escalationThreshold),
  clearThreshold: numberField(
    'So many shut checks in a row, and the door counts as shut again.',
    checkLimits,
  ).prefault(defaults.watch.clearThreshold),
  alertCooldown: durationField('Quiet time after a delivered alert.', lengthLimits).prefault(
    defaults.watch.alertCooldown,
  ),
  cooldownEndsWhenShut: flagField('Whether a door seen shut ends the cooldown.').prefault(
    defaults.watch.cooldownEndsWhenShut,
  ),
  afterAlert: wordField('What the device does once an alert is delivered.', [
    'keep-watching',
    'hold-until-reset',
  ]).prefault(defaults.watch.afterAlert),
  retry: section('What it does when an alert is not delivered.', {
    interval: durationField('Sleep before the next attempt.', sleepLimits).prefault(
      defaults.watch.retry.interval,
    ),
    attempts: numberField(
      'Failed attempts in a row before it falls back to checkInterval.',
      attemptLimits,
    ).prefault(defaults.watch.retry.attempts),
  }).prefault({}),
  unsentWhenShut: wordField('What becomes of an undelivered alert when the door is seen shut.', [
    'send',
    'drop',
  ]).prefault(defaults.watch.unsentWhenShut),
  wakeOn: wordField('Which contact edges wake the device besides its timer.', [
    'timer',
    'opening',
    'any-change',
  ]).prefault(defaults.watch.wakeOn),
  heartbeatInterval: z
    .union([
      durationField("Time between 'alive' messages, or off.", heartbeatLimits, 'or write off'),
      wordField('No heartbeat.', ['off']).transform(() => null),
    ])
    .prefault(defaults.watch.heartbeatInterval),
});

const device = section('The device as it is built.', {
  bootTime: rangeField('From the wake to the check.', workLimits).prefault(
    defaults.device.bootTime,
  ),
  connectTime: rangeField('From the check to the end of an attempt.', workLimits).prefault(
    defaults.device.connectTime,
  ),
  clockError: watchClockErrorField.prefault(defaults.device.clockError),
});

const judge = section('What the owner asks of it.', {
  leaveOpenAfter: durationField(
    'An opening at least this long is a leave-open.',
    stretchLimits,
  ).prefault(defaults.judge.leaveOpenAfter),
  reportWithin: durationField(
    'From the start of an opening to the delivery of its alert.',
    stretchLimits,
  ).optional(),
  quietUpTo: durationField(
    'One opening of at most this, an hour after the last, must raise no alert.',
    lengthLimits,
  ).optional(),
});

const gapRange = { ...gapLimits, unit: 'mm' } as const;

const contact = section('The switch and magnet; without this section, an ideal contact.', {
  operateGap: measureField('Coming from open, it reads shut at this gap.', gapMeasure, gapRange),
  releaseGap: measureField('Coming from shut, it reads open above this.', gapMeasure, gapRange),
  bounceTime: durationField('How long it bounces after a change.', bounceLimits).prefault(
    defaults.contact.bounceTime,
  ),
}).transform((given, context) => {
  if (given.operateGap > given.releaseGap) {
    const params = {
      code: 'operate-above-release',
      hint: 'a contact opens at a gap that is at least the one at which it shuts',
    };
    context.addIssue({
      code: 'custom',
      path: ['operateGap'],
      message: 'is more than releaseGap',
      params,
    });
  }
  return {
    operateGapUm: um(given.operateGap),
    releaseGapUm: um(given.releaseGap),
    bounceMs: given.bounceTime,
  };
});

const door = section('The door itself.', {
  sealGap: measureField('Up to this gap the door still seals.', gapMeasure, gapRange)
    .transform(um)
    .prefault(defaults.door.sealGap),
});

/** An optional section without a line in it is as good as none. */
function nothingIfNull(value: unknown): unknown {
  return value === null ? undefined : value;
}

/** What may stand in a watch file. */
export const watchDefinition = z
  .strictObject({
    $schema: textField('The schema that an editor checks this file with.', 1_000).optional(),
    watch: watch.prefault({}),
    device: device.prefault({}),
    judge: judge.prefault({}),
    contact: z.preprocess(nothingIfNull, contact.optional()),
    door: door.prefault({}),
    supply: z.preprocess(nothingIfNull, supplySection.optional()),
    environment: environmentSection.prefault({}),
  })
  .meta({ title: 'Watch file', description: 'A sleeping door monitor and what is asked of it.' });
