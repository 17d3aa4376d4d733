// The definition of a scenario: its keys and their values.

import * as z from 'zod';
import { durationText } from '../../base/index.js';
import { longestTimelineMs, mostEntries, resetKinds, workLimits } from '../../model/index.js';
import { generateField, seedField } from '../profile/definition.js';
import { readDuration } from '../quantity/duration.js';
import { gapMeasure, shareMeasure } from '../quantity/measure.js';
import {
  durationField,
  flagField,
  leaf,
  list,
  measureField,
  numberField,
  section,
  textField,
  wordField,
  wrongType,
} from '../text/fields.js';
import type { Decoded } from '../text/problem.js';
import {
  instantExamples,
  readWrittenInstant,
  type WrittenInstant,
} from '../time/written-instant.js';
import { clockErrorInTurnField, varyingInTurnField } from '../watch/timing-fields.js';
import { readDoorSentence } from './door-sentence.js';
import { expectFields } from './expect-fields.js';

const lasting = { least: 1, most: longestTimelineMs };
const instantExpected = 'an instant in quotes, such as "07:30", "day 2 07:30" or +11h';

function readInstantValue(value: unknown): Decoded<WrittenInstant> {
  return typeof value === 'string' ? readWrittenInstant(value) : wrongType(instantExpected);
}

function instantField(description: string) {
  return leaf(readInstantValue, { type: 'string', description, examples: instantExamples });
}

/** An instant, or a bare duration after the start. */
function momentField(description: string, examples: readonly string[]) {
  return leaf(
    (value): Decoded<WrittenInstant> => {
      const duration = typeof value === 'string' ? readDuration(value) : null;
      return duration?.ok === true
        ? { ok: true, value: { kind: 'after-start', ms: duration.value } }
        : readInstantValue(value);
    },
    { type: 'string', description, examples },
  );
}

const powerOn = momentField(
  'When the device gets its power: an instant, or a time after the start.',
  ['30s', '07:30'],
);

/** How long something lasts: `for` or `until`, one of the two. */
const lastsFields = {
  for: durationField('How long it lasts.', lasting).optional(),
  until: instantField(
    'When it ends: an instant (the next one, for a time of day), or end.',
  ).optional(),
};

const gap = measureField('How far the door is open. Default: wide open.', gapMeasure, {
  least: 0,
  most: 1_000_000,
  unit: 'mm',
});

const openingFields = z
  .strictObject({
    at: instantField('When the door opens.'),
    ...lastsFields,
    gap: gap.optional(),
    approach: wordField(
      'How the door reaches its gap: it is opened wide and then closed to the gap, or it creeps there from shut.',
      ['closing', 'creeping'],
    ).optional(),
    note: textField('A note that reports show beside the opening.').optional(),
  })
  .meta({ description: 'One opening of the door.' });

function readSentence(value: unknown): Decoded<z.input<typeof openingFields>> {
  return typeof value === 'string' ? readDoorSentence(value) : wrongType('a sentence');
}

export const openingItem = z.union([
  leaf(readSentence, {
    type: 'string',
    description: 'One opening of the door, as a sentence.',
    examples: ['at 08:15 for 40s', 'at +11h for 25m ajar 6mm'],
  }).pipe(openingFields),
  openingFields,
]);

export const outageItem = z
  .strictObject({ down: instantField('When the network goes down.'), ...lastsFields })
  .meta({ description: 'One network outage.' });

export const lossItem = z
  .strictObject({ lost: instantField('When the device loses power.'), ...lastsFields })
  .meta({ description: 'One power loss.' });

const resetAt = instantField('When something resets the device.');

const resetFields = z
  .strictObject({
    at: resetAt,
    kind: wordField(
      'What resets it: a person at the button, its watchdog (or a crash), or its own software.',
      resetKinds,
    ).prefault('button'),
  })
  .meta({ description: 'One reset of a kind.' });

/** An instant alone is a reset by button. */
export const resetItem = z.union([
  resetAt.transform((at) => ({ at, kind: 'button' as const })),
  resetFields,
]);

export const chargedItem = momentField(
  'When somebody charges the battery, at once and fully: an instant, or a time after the start.',
  ['2d', 'day 8 07:30'],
);

export const batteryItem = z
  .strictObject({
    low: instantField('When the battery begins to count as low, whatever its charge.'),
    ...lastsFields,
  })
  .meta({ description: 'A time in which the battery counts as low.' });

export const faultItem = z
  .strictObject({
    stuck: wordField('What the contact reads, whatever the door does.', [
      'open',
      'shut',
    ]).optional(),
    chattering: flagField('true: the contact reads at random.').optional(),
    at: instantField('When the fault begins.'),
    ...lastsFields,
    openShare: measureField(
      'The share of the time in which a chattering contact reads open.',
      shareMeasure,
      {
        least: 0,
        most: 1_000_000,
        unit: '%',
      },
    ).optional(),
    every: durationField('How often a chattering contact picks a reading at random.', {
      least: 1,
      most: 86_400_000,
    }).optional(),
  })
  .meta({ description: 'A time in which the contact does not follow the door.' });

export const temperatureItem = z
  .strictObject({
    at: instantField('When this temperature begins.'),
    celsius: numberField('Temperature around the device in °C.', {
      least: -100,
      most: 200,
      fraction: true,
    }),
  })
  .meta({ description: 'A temperature, which lasts until the next entry.' });

function resetField(description: string) {
  return wordField(description, ['keeps', 'clears']);
}

const environment = section(
  'How the device behaves in this scenario: the times that it takes, and what its resets do. These keys override device: of the watch file. What may go wrong is environment: in the watch file; what does go wrong here is network:, power:, resets: and contact:.',
  {
    bootTime: varyingInTurnField('The time from a wake to its check.', workLimits).optional(),
    connectTime: varyingInTurnField(
      'The time from a check to the end of its attempt to send.',
      workLimits,
    ).optional(),
    clockError: clockErrorInTurnField.optional(),
    reset: section('What resets do to retained memory.', {
      button: resetField('A reset by button.').optional(),
      watchdog: resetField('A reset by watchdog, or after a crash.').optional(),
      software: resetField('A reset that the firmware starts.').optional(),
    }).optional(),
  },
);

/** Keys with one value each. */
export const plainFields = {
  $schema: textField('The schema that an editor checks this file with.', 1_000).optional(),
  name: textField(
    'What the scenario shows, in a few words. Default: the name of the file.',
  ).optional(),
  start: leaf(
    (value) =>
      typeof value === 'string'
        ? { ok: true, value }
        : wrongType('an instant such as "2026-05-08 06:00"'),
    {
      type: 'string',
      description:
        'When the scenario starts: an instant with an offset or a zone, or a local time in zone. ' +
        'Default: Monday, 4 May 2026, 00:00 UTC.',
      examples: [
        '2026-05-08T06:00:00+02:00',
        '2026-05-08T06:00[Europe/Lisbon]',
        '2026-05-08 06:00',
      ],
    },
  ).prefault('2026-05-04T00:00:00Z'),
  zone: textField('The zone of local times, such as Europe/Lisbon or +02:00.').optional(),
  length: durationField('How long the scenario lasts.', lasting).prefault('1d'),
  powerOnAt: powerOn.prefault('0s'),
  environment: environment.prefault({}),
  seed: seedField.optional(),
  expect: expectFields.optional(),
  generate: generateField.optional(),
};

/** The whole scenario file. */
export const scenarioDefinition = z
  .strictObject({
    ...plainFields,
    door: list('When the door is open.', openingItem, mostEntries).optional(),
    network: list('When the network is down.', outageItem, mostEntries).optional(),
    power: list('When the device has no power.', lossItem, mostEntries).optional(),
    resets: list('When the device is reset.', resetItem, mostEntries).optional(),
    charged: list('When somebody charges the battery.', chargedItem, mostEntries).optional(),
    battery: list(
      'When the battery counts as low, whatever its charge.',
      batteryItem,
      mostEntries,
    ).optional(),
    contact: list('Faults of the contact.', faultItem, mostEntries).optional(),
    temperature: list(
      'The temperature around the device.',
      temperatureItem,
      mostEntries,
    ).optional(),
  })
  .meta({
    title: 'Scenario',
    description: `A door timeline of up to ${durationText(longestTimelineMs)}, and the verdict that it expects.`,
  });
