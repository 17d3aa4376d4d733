// How long an answer to an alert takes, and the `answer:` section as settings.
import * as z from 'zod';
import {
  type AnswerDelay,
  type AnswerSettings,
  type ChargePlan,
  type ChargingHabit,
  type Given,
  type Row,
  type settings,
} from '../../model/index.js';
import { durationField, leaf, numberField, wrongType } from '../text/fields.js';
import { bad, type Decoded, good } from '../text/problem.js';
import type { WatchFile } from '../types.js';

const clockExpected = 'a time of day in quotes, such as "22:00"';

function readClock(value: unknown): Decoded<number> {
  if (typeof value !== 'string') return wrongType(clockExpected);
  const [, hours, minutes] = /^([01]?\d|2[0-3]):([0-5]\d)$/u.exec(value.trim()) ?? [];
  if (hours === undefined || minutes === undefined) {
    return bad('time-unreadable', 'is not a time of day', { expected: clockExpected });
  }
  return good((Number(hours) * 60 + Number(minutes)) * 60_000);
}

function clockField(description: string) {
  return leaf(readClock, { type: 'string', description, examples: ['22:00'] });
}

/** `15m`, `{ median: 15m, sigma: 0.8 }` or `{ day: 15m, night: 8h }`. */
export function answerDelayField({ help, range }: Row<'answerDelay'>): z.ZodType<AnswerDelay> {
  return z.union([
    durationField(help, range).transform((ms): AnswerDelay => ({ kind: 'fixed', ms })),
    z
      .strictObject({
        median: durationField('Half of the answers are sooner.', range).optional(),
        sigma: numberField('Standard deviation of the logarithm: 0.5 is narrow, 1.5 wide.', {
          least: 0,
          most: 5,
          fraction: true,
        }).optional(),
        day: durationField('The answer to an alert by day.', range).optional(),
        night: durationField('The answer to an alert by night.', range).optional(),
        nightFrom: clockField('When the night begins. Default: 22:00.').optional(),
        nightUntil: clockField(
          'When the night ends: no answer to a night alert is later than this and the time by day. Default: 06:30.',
        ).optional(),
      })
      .meta({ description: help })
      .transform((given, context): AnswerDelay => {
        const { median, sigma, day, night, nightFrom, nightUntil } = given;
        const complain = (says: string): void => {
          const hint =
            'write { median: 15m, sigma: 0.8 } or { day: 15m, night: 8h, nightFrom: "22:00", nightUntil: "06:30" }';
          const params = { code: 'answer-unclear', hint };
          context.addIssue({ code: 'custom', message: says, params });
        };
        const isSpread = median !== undefined || sigma !== undefined;
        const isByNight = [day, night, nightFrom, nightUntil].some((part) => part !== undefined);
        if (isSpread && isByNight) complain('mixes a median with day and night');
        else if (isByNight && (day === undefined || night === undefined)) {
          complain('needs both day and night');
        } else if (!isByNight && median === undefined) complain('has no duration');
        return isByNight
          ? {
              kind: 'byNight',
              dayMs: day ?? 0,
              nightMs: night ?? 0,
              nightFromMs: nightFrom ?? 22 * 3_600_000,
              nightUntilMs: nightUntil ?? 6.5 * 3_600_000,
            }
          : { kind: 'lognormal', medianMs: median ?? 0, sigma: sigma ?? 0 };
      }),
  ]);
}

export function answerSettings(
  given: Given<typeof settings.answer> | undefined,
): AnswerSettings | null {
  if (given === undefined) return null;
  const { afterAlert, afterMissedHeartbeat, charges } = given;
  return {
    afterAlert: afterAlert ?? null,
    afterMissedHeartbeatMs: afterMissedHeartbeat ?? null,
    charges:
      charges === undefined
        ? null
        : {
            everyMs: charges.every ?? null,
            ...(charges.afterWarning === undefined ? {} : { afterWarningMs: charges.afterWarning }),
          },
  };
}

const nobodyCharges: ChargingHabit = { everyMs: null };

/** The supply that a replay, a suite or a rig run drains; null: the file describes none, and there is always charge. */
export function chargePlanOf({ supply, answer }: WatchFile): ChargePlan | null {
  return supply === null ? null : { supply, charging: answer?.charges ?? nobodyCharges };
}
