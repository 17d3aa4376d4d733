// The scenario as one definition: what may stand in it, entry by entry.

import * as z from 'zod';
import { durationText } from '../../base/index.js';
import { mostEntries, workLimits } from '../../model/index.js';
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

/** Ten years. */
const longestScenarioMs = 3_660 * 86_400_000;

const lasting = { least: 1, most: longestScenarioMs };
const instantExpected = 'an instant in quotes, such as "07:30", "day 2 07:30" or +11h';

function readInstantValue(value: unknown): Decoded<WrittenInstant> {
  return typeof value === 'string' ? readWrittenInstant(value) : wrongType(instantExpected);
}

function instantField(description: string) {
  return leaf(readInstantValue, { type: 'string', description, examples: instantExamples });
}

const powerOn = leaf(
  (value): Decoded<WrittenInstant> => {
    const duration = typeof value === 'string' ? readDuration(value) : null;
    return duration?.ok === true
      ? { ok: true, value: { kind: 'after-start', ms: duration.value } }
      : readInstantValue(value);
  },
  {
    type: 'string',
    description: 'When the device first gets power: an instant, or so long after the start.',
    examples: ['30s', '07:30'],
  },
);

/** How long something lasts: `for` or `until`, one of the two. */
const lastsFields = {
  for: durationField('For how long.', lasting).optional(),
  until: instantField('Until when; a time of day is the next one; or end.').optional(),
};

const gap = measureField('How far it stands open; without it, wide open.', gapMeasure, {
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
      'How it comes to its gap: swung wide and pushed to it, or moved there from shut.',
      ['closing', 'creeping'],
    ).optional(),
    note: textField('Said beside the opening in reports.').optional(),
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

export const resetItem = instantField('When somebody resets the device.');

export const faultItem = z
  .strictObject({
    stuck: wordField('It reads this whatever the door does.', ['open', 'shut']).optional(),
    chattering: flagField('true: it reads at random.').optional(),
    at: instantField('When the fault begins.'),
    ...lastsFields,
    openShare: measureField('How often a chattering contact reads open.', shareMeasure, {
      least: 0,
      most: 1_000_000,
      unit: '%',
    }).optional(),
    every: durationField('How often a chattering contact is drawn anew.', {
      least: 1,
      most: 86_400_000,
    }).optional(),
  })
  .meta({ description: 'A while in which the contact does not follow the door.' });

export const temperatureItem = z
  .strictObject({
    at: instantField('From when on.'),
    celsius: numberField('Temperature around the device in °C.', {
      least: -100,
      most: 200,
      fraction: true,
    }),
  })
  .meta({ description: 'It stays so until the next entry.' });

const environment = section('The device in this scenario, in place of what the watch file says.', {
  bootTime: varyingInTurnField('From the wake to the check.', workLimits).optional(),
  connectTime: varyingInTurnField(
    'From the check to the end of an attempt.',
    workLimits,
  ).optional(),
  clockError: clockErrorInTurnField.optional(),
});

/** Keys with one value each. */
export const plainFields = {
  $schema: textField('The schema that an editor checks this file with.', 1_000).optional(),
  name: textField('What the scenario shows, in a few words.'),
  start: leaf(
    (value) => (typeof value === 'string' ? { ok: true, value } : wrongType('an instant')),
    {
      type: 'string',
      description:
        'When it starts: an instant with an offset or a zone, or local time in zone. ' +
        'Default: Monday, 4 May 2026, 00:00 UTC.',
      examples: [
        '2026-05-08T06:00:00+02:00',
        '2026-05-08T06:00[Europe/Lisbon]',
        '2026-05-08 06:00',
      ],
    },
  ).prefault('2026-05-04T00:00:00Z'),
  zone: textField('The zone of its local times: Europe/Lisbon, or +02:00.').optional(),
  length: durationField('How long it is.', lasting).prefault('1d'),
  powerOnAt: powerOn.prefault('0s'),
  environment: environment.prefault({}),
  seed: seedField.optional(),
  expect: expectFields.optional(),
  generate: generateField.optional(),
};

/** What may stand in a scenario. */
export const scenarioDefinition = z
  .strictObject({
    ...plainFields,
    door: list('When the door is open.', openingItem, mostEntries).optional(),
    network: list('When the network is down.', outageItem, mostEntries).optional(),
    power: list('When the device has no power.', lossItem, mostEntries).optional(),
    resets: list('When somebody resets the device.', resetItem, mostEntries).optional(),
    contact: list('Faults of the contact.', faultItem, mostEntries).optional(),
    temperature: list('How warm it is.', temperatureItem, mostEntries).optional(),
  })
  .meta({
    title: 'Scenario',
    description: `A door timeline of up to ${durationText(longestScenarioMs)}, and what should come of it.`,
  });
