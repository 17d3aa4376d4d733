// The `expect:` section: what a scenario wishes of its own verdict.
import * as z from 'zod';
import { durationField, numberField, section } from '../text/fields.js';
import type { Expectations } from '../types.js';

/** The counts of a summary that may be wished for. */
const countNames = [
  'openings',
  'leaveOpens',
  'reported',
  'late',
  'missed',
  'undecided',
  'alerts',
  'falseAlarms',
  'earlyAlerts',
  'repeats',
  'checks',
] as const;

const anyCount = { least: 0, most: 1_000_000_000_000 };
const anyDelay = { least: 0, most: 3_660 * 86_400_000 };

function countField(description: string) {
  return z
    .union([
      numberField(`${description} Exactly so many.`, anyCount).transform((exactly) => ({
        least: exactly,
        most: exactly,
      })),
      z
        .strictObject({
          atLeast: numberField('At least so many.', anyCount).optional(),
          atMost: numberField('At most so many.', anyCount).optional(),
        })
        .meta({ description })
        .transform(({ atLeast = 0, atMost = Number.POSITIVE_INFINITY }, context) => {
          if (atLeast > atMost) {
            const params = { code: 'min-above-max', hint: 'no number is that' };
            const message = 'is more than atMost';
            context.addIssue({ code: 'custom', path: ['atLeast'], message, params });
          }
          return { least: atLeast, most: atMost };
        }),
    ])
    .optional();
}

export const expectFields = section('What should come of it; suite and replay check it.', {
  openings: countField('Openings of the door.'),
  leaveOpens: countField('Openings at least leaveOpenAfter long.'),
  reported: countField('Leave-opens reported in time.'),
  late: countField('Leave-opens reported after reportWithin.'),
  missed: countField('Leave-opens never reported.'),
  undecided: countField(
    'Openings still open at the end: not yet leaveOpenAfter long, or with time left to report them.',
  ),
  alerts: countField('Alerts decided.'),
  falseAlarms: countField('Alerts about a brief opening or a shut door.'),
  earlyAlerts: countField('Alerts decided before leaveOpenAfter had passed.'),
  repeats: countField('Further alerts of one opening.'),
  checks: countField('Checks of the contact.'),
  worstDelayAtMost: durationField('The greatest detection latency.', anyDelay).optional(),
  worstDelayAtLeast: durationField('The greatest detection latency.', anyDelay).optional(),
}).transform((given): Expectations => {
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
