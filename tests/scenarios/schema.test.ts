// The schemas are for editors: they take what the reader takes, and mark what it refuses for its shape.
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import {
  parseScenario,
  parseWatchFile,
  scenarioJsonSchema,
  starterScenarioText,
  starterWatchText,
  watchJsonSchema,
} from '../../src/scenarios/index.js';
import { once } from '../support/once.js';

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
const watchSchema = once(() => ajv.compile(watchJsonSchema()));
const scenarioSchema = once(() => ajv.compile(scenarioJsonSchema()));

const durations = fc.constantFrom('400ms', '3m', '1h30m', 'PT3M', '1.5s', '3', 3, true, null, []);
const section = (keys: Record<string, fc.Arbitrary<unknown>>): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 9, arbitrary: fc.record(keys, { requiredKeys: [] }) },
    { weight: 1, arbitrary: fc.constantFrom(null, 3, 'x', []) },
  );

const watchFiles = fc.record(
  {
    watch: section({
      checkInterval: durations,
      escalationThreshold: fc.constantFrom(2, 0, 1.5, { open: 2, outOf: 3 }, { open: 1 }, '2'),
      clearThreshold: fc.constantFrom(1, 11, '1'),
      cooldownEndsWhenShut: fc.constantFrom(true, false, 'yes'),
      afterAlert: fc.constantFrom('keep-watching', 'hold-until-reset', 'hold'),
      retry: section({ interval: durations, attempts: fc.constantFrom(1, 0) }),
      heartbeatInterval: fc.constantFrom('off', '1h', 'never', false),
      unknown: fc.constant(1),
    }),
    device: section({
      connectTime: fc.constantFrom('3s..9s', ' 1m30s .. PT3M', '3s..', '..9s', '3..9s', '9s..3s'),
      bootTime: fc.oneof(durations, fc.record({ min: durations, max: durations })),
      clockError: fc.constantFrom(
        '2%',
        '-20ppm',
        2,
        { min: '-1%', max: '1%' },
        '-2%..+150ppm',
        '2..3%',
        { middle: '1%' },
      ),
    }),
    judge: section({ leaveOpenAfter: durations, reportWithin: durations }),
    door: section({ sealGap: fc.constantFrom(2, '2mm', '2.5 cm', -2, '2m', null) }),
    stranger: fc.constant(1),
  },
  { requiredKeys: [] },
);

describe('the schema of watch files', () => {
  it('takes whatever the reader takes', () => {
    fc.assert(
      fc.property(watchFiles, (file) => {
        if (parseWatchFile(JSON.stringify(file), 'watch.json').ok) {
          expect(watchSchema()(file), JSON.stringify(watchSchema().errors)).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it.each([
    { stranger: 1 },
    { watch: { chekInterval: '3m' } },
    { watch: { checkInterval: 3 } },
    { watch: { checkInterval: '3' } },
    { watch: { escalationThreshold: 0 } },
    { watch: { escalationThreshold: { open: 2 } } },
    { watch: { afterAlert: 'hold' } },
    { device: { clockError: 2 } },
    { device: { clockError: '2' } },
    { device: { clockError: '2%..3' } },
    { device: { connectTime: '3s..' } },
    { device: { connectTime: '3..9s' } },
    { door: { sealGap: '2m' } },
    { contact: { operateGap: '8mm' } },
    { supply: { capacity: '400' } },
  ])('marks %j', (file) => {
    expect(watchSchema()(file)).toBe(false);
    expect(parseWatchFile(JSON.stringify(file), 'watch.json').ok).toBe(false);
  });

  it('takes what init writes', () => {
    expect(watchSchema()(parse(starterWatchText()))).toBe(true);
  });

  it('tells an editor what each setting is for, and its default', () => {
    expect(watchJsonSchema()).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      properties: {
        watch: {
          properties: {
            checkInterval: {
              default: '2m',
              description: 'How long the device sleeps between two checks. From 10 ms to 30 d.',
            },
          },
        },
      },
    });
  });
});

describe('the schema of scenarios', () => {
  it('takes what init writes, and what the examples say', () => {
    expect(scenarioSchema()(parse(starterScenarioText()))).toBe(true);
    const example = {
      name: 'Delivery day at the flower store',
      start: '2026-05-08T06:00:00+02:00',
      length: '1d',
      powerOnAt: '30s',
      door: [
        { at: '07:10', for: '45s' },
        { at: '+11h', until: 'end', gap: 10, approach: 'creeping', note: 'the wind' },
        'at 08:15 for 40s ajar 6mm',
      ],
      network: [{ down: '07:35', for: '1h' }],
      power: [{ lost: '09:00', for: '2m' }],
      resets: ['09:30'],
      contact: [
        { stuck: 'shut', at: '12:00', for: '1h' },
        { chattering: true, at: '14:00', for: '10m', openShare: '50%', every: '200ms' },
      ],
      temperature: [{ at: '+0s', celsius: 4.5 }],
      environment: { bootTime: ['400ms', '1s'], clockError: { sleeps: ['3m'] } },
      seed: 7,
      generate: { profile: 'goose-house' },
      expect: { missed: 0, alerts: { atLeast: 2 }, worstDelayAtMost: '75m' },
    };
    expect(scenarioSchema()(example), JSON.stringify(scenarioSchema().errors)).toBe(true);
    expect(parseScenario(JSON.stringify(example), 'day.json').ok).toBe(true);
  });

  it.each([
    { name: 'x', door: [{ from: '07:10', for: '45s' }] },
    { name: 'x', door: [{ at: '07:10', for: 45 }] },
    { name: 'x', contact: [{ stuck: 'ajar', at: '12:00', for: '1h' }] },
    { name: 'x', expect: { mist: 0 } },
    { name: 'x', generate: { profile: 'office' } },
    { name: 'x', generate: { profile: { openingsPerHour: [1, 2], duration: '1s' } } },
  ])('marks %j', (file) => {
    expect(scenarioSchema()(file)).toBe(false);
    expect(parseScenario(JSON.stringify(file), 'day.json').ok).toBe(false);
  });
});

describe('the shipped schemas', () => {
  it.each([
    ['schemas/watch.schema.json', watchJsonSchema],
    ['schemas/scenario.schema.json', scenarioJsonSchema],
  ])('%s is what the definitions give', (file, schema) => {
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(schema());
  });
});
