// The `expect:` section: the verdict that a scenario expects.

import * as z from 'zod';
import { longestTimelineMs } from '../../model/index.js';
import { durationField, numberField, section } from '../text/fields.js';
import type { Expectations } from '../types.js';

/** The counts that a scenario can expect. */
const countNames = [
  'openings',
  'leaveOpens',
  'reported',
  'late',
  'missed',
  'unpowered',
  'undecided',
  'alerts',
  'falseAlarms',
  'earlyAlerts',
  'repeats',
  'undelivered',
  'checks',
  'lowBatteryMessages',
] as const;

const anyCount = { least: 0, most: 1_000_000_000_000 };
const anyDelay = { least: 0, most: longestTimelineMs };

function countField(description: string) {
  return z
    .union([
      numberField(`${description} Exactly this many.`, anyCount).transform((exactly) => ({
        least: exactly,
        most: exactly,
      })),
      z
        .strictObject({
          atLeast: numberField('At least this many.', anyCount).optional(),
          atMost: numberField('At most this many.', anyCount).optional(),
        })
        .meta({ description })
        .transform(({ atLeast = 0, atMost = Number.POSITIVE_INFINITY }, context) => {
          if (atLeast > atMost) {
            const params = { code: 'min-above-max', expected: `at most ${String(atMost)}` };
            const message = 'is more than atMost';
            context.addIssue({ code: 'custom', path: ['atLeast'], message, params });
          }
          return { least: atLeast, most: atMost };
        }),
    ])
    .optional();
}

export const expectFields = section(
  'The verdict that the scenario expects; suite and replay check it.',
  {
    openings: countField('Openings of the door.'),
    leaveOpens: countField('Openings of at least leaveOpenAfter.'),
    reported: countField('Leave-opens reported in time.'),
    late: countField('Leave-opens reported after reportWithin.'),
    missed: countField('Leave-opens never reported.'),
    unpowered: countField('Leave-opens missed while the device was off for want of charge.'),
    undecided: countField(
      'Openings that are still open at the end, before leaveOpenAfter or before their report is due.',
    ),
    alerts: countField('Alerts decided.'),
    falseAlarms: countField('Alerts about a brief opening or a shut door.'),
    earlyAlerts: countField('Alerts that were decided before leaveOpenAfter had passed.'),
    repeats: countField('Further alerts of one opening.'),
    undelivered: countField('Alerts decided and never delivered.'),
    checks: countField('Checks of the contact.'),
    lowBatteryMessages: countField('Low-battery messages delivered.'),
    worstDelayAtMost: durationField(
      'The worst detection latency is at most this.',
      anyDelay,
    ).optional(),
    worstDelayAtLeast: durationField(
      'The worst detection latency is at least this.',
      anyDelay,
    ).optional(),
  },
).transform((given): Expectations => {
  const { worstDelayAtMost, worstDelayAtLeast } = given;
  const counts = countNames.flatMap((name) => {
    const range = given[name];
    return range === undefined ? [] : [{ name, ...range }];
  });
  return {
    counts,
    worstDelayAtMostMs: worstDelayAtMost ?? null,
    worstDelayAtLeastMs: worstDelayAtLeast ?? null,
  };
});
