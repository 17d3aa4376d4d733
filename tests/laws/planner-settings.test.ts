// A watch file that is dropped into the planner becomes settings, and the file taken out means the same.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fields } from '../../src/planner/fields.js';
import { overridesOf, settingsIn } from '../../src/planner/settings.js';
import { hashOf, initialState, stateOf } from '../../src/planner/state.js';
import {
  overlaidWatchText,
  parseWatchFile,
  watchJsonSchema,
  watchTextSaying,
} from '../../src/scenarios/index.js';

const duration = fc.constantFrom('10ms', '1s', '90s', 'PT3M', '1h30m', '2d');
const work = fc.oneof(
  fc.constantFrom('0ms', '400ms', '1m'),
  fc.constantFrom('{ min: 1ms, max: 2s }', '{ min: 3s, max: 3s }'),
);
const count = fc.integer({ min: 1, max: 4 }).map(String);
const activity = fc.constantFrom(
  '{ current: 45mA }',
  '{ current: 4mA, time: 200ms }',
  '{ charge: 3.8mC }',
  '{ charge: 2uAh }',
  '{ time: 2s, current: 1mA }',
);
const gap = fc.constantFrom('8', '8.5', '10mm', '1cm', '500um');

/** Any value of each key, and whether it is there at all. */
const keys: Readonly<Record<string, Readonly<Record<string, fc.Arbitrary<string>>>>> = {
  watch: {
    checkInterval: duration,
    recheckInterval: duration,
    escalationThreshold: fc.oneof(
      count,
      fc.constantFrom('{ open: 2, outOf: 3 }', '{ outOf: 4, open: 1 }'),
    ),
    clearThreshold: count,
    alertCooldown: fc.oneof(duration, fc.constant('0s')),
    cooldownEndsWhenShut: fc.constantFrom('true', 'false'),
    afterAlert: fc.constantFrom('keep-watching', 'hold-until-reset'),
    retry: fc.constantFrom(
      '{}',
      '{ interval: 20s }',
      '{ attempts: 7 }',
      '{ interval: 1m, attempts: 1 }',
    ),
    unsentWhenShut: fc.constantFrom('send', 'drop'),
    wakeOn: fc.constantFrom('timer', 'opening', 'any-change'),
    heartbeatInterval: fc.constantFrom('off', '1d', '1s'),
  },
  device: {
    bootTime: work,
    connectTime: work,
    clockError: fc.constantFrom(
      '0%',
      '-150ppm',
      '{ min: -2%, max: 150ppm }',
      '{ byTemperature: [{ celsius: -20.5, error: 8% }, { celsius: 25, error: 0% }] }',
      '{ byTemperature: [{ error: -1%, celsius: 5 }] }',
    ),
  },
  judge: { leaveOpenAfter: duration, reportWithin: duration, quietUpTo: duration },
  contact: {
    operateGap: fc.constantFrom('3', '2mm'),
    releaseGap: gap,
    bounceTime: fc.constantFrom('1ms', '20ms'),
  },
  door: { sealGap: gap },
  supply: {
    preset: fc.constantFrom('bare-radio-module', 'tuned-board'),
    capacity: fc.constantFrom('330mAh', '2.2Ah'),
    usable: fc.constantFrom('80%', '100%'),
    celsius: fc.constantFrom('4', '-3.5'),
    derating: fc.constantFrom(
      '[{ celsius: -10, share: 62.5% }, { celsius: 20, share: 100% }]',
      '[{ share: 80%, celsius: 0 }]',
    ),
    selfDischarge: fc.constantFrom(
      '2%',
      '{ firstDay: 5%, perMonth: 2% }',
      '{ perMonth: 1%, protectionPerMonth: 3% }',
    ),
    sleepCurrent: fc.constantFrom('5uA', '12.8µA'),
    boot: activity,
    blink: fc.constantFrom('{ current: 4mA, time: 200ms }', '{ charge: 1mC }'),
    connect: activity,
    failedAttempt: activity,
    hold: fc.constant('{ current: 48mA }'),
    heartbeat: activity,
    contactBias: fc.constantFrom(
      '{ resistance: 45kOhm }',
      '{ resistance: 1MOhm, voltage: 3V, powered: check-only }',
    ),
    voltageCurve: fc.constantFrom('[{ left: 100%, voltage: 4.2V }, { left: 0%, voltage: 3000mV }]'),
  },
  environment: {
    longestOutage: fc.constantFrom('1h', '90s'),
    outages: count,
    powerLosses: count,
    powerLossLasting: duration,
    resets: fc.constantFrom('0', '3'),
    longestChatter: duration,
  },
};

const needed: Readonly<Record<string, readonly string[]>> = {
  contact: ['operateGap', 'releaseGap'],
  supply: ['capacity', 'preset', 'celsius', 'derating'],
  environment: ['longestOutage', 'powerLosses'],
};

const schemas = fc.constantFrom(
  [],
  ['$schema: ./schemas/watch.schema.json'],
  ['$schema: watch.json'],
);

const texts = fc
  .tuple(
    schemas,
    ...Object.entries(keys).map(([section, of]) =>
      fc
        .tuple(fc.boolean(), fc.record(of, { requiredKeys: [...(needed[section] ?? [])] }))
        .map(([isThere, values]) =>
          isThere
            ? [`${section}:`, ...Object.entries(values).map(([key, value]) => `  ${key}: ${value}`)]
            : [],
        ),
    ),
  )
  .map(
    (sections) =>
      `${['# a comment', ...sections.flat(), 'door: {}'].filter((line, _, all) => line !== 'door: {}' || !all.includes('door:')).join('\n')}\n`,
  );

/** What an editor checks a file with; null: the file does not say. */
function schemaLine(text: string): string | null {
  return /^\$schema: (.*)$/mu.exec(text)?.[1] ?? null;
}

describe('a watch file dropped into the planner', () => {
  it('becomes settings from which an equal file is taken out, also through a link', () => {
    let read = 0;
    fc.assert(
      fc.property(texts, (text) => {
        const parsed = parseWatchFile(text, 'watch.yaml');
        const set = settingsIn(text, 'watch.yaml');
        if (!parsed.ok) {
          expect(set).toBeNull();
          return;
        }
        read += 1;
        const linked = stateOf(hashOf({ ...initialState, set: set ?? {} }));
        expect(linked?.set).toEqual(set);
        const overrides = overridesOf(linked?.set ?? {});
        const taken = overlaidWatchText(null, 'watch.yaml', { overrides, comment: [] });
        const kept = watchTextSaying(text, overrides);
        expect(kept.startsWith('# a comment\n'), kept).toBe(true);
        expect(parseWatchFile(kept, 'watch.yaml'), kept).toMatchObject({ value: parsed.value });
        const again = parseWatchFile(taken, 'watch.yaml');
        expect(again.ok && again.value, taken).toEqual(parsed.value);
        expect(schemaLine(taken)).toBe(schemaLine(text));
        expect(parseWatchFile(null, 'watch.yaml', overrides)).toMatchObject({
          ok: true,
          value: parsed.value,
        });
      }),
      { numRuns: 300 },
    );
    expect(read).toBeGreaterThan(100);
  });

  it('has a field for every key that the schema knows', () => {
    const known = new Set(fields.map(({ key }) => key));
    const missing: string[] = [];
    const walk = (schema: unknown, path: readonly string[]): void => {
      if (typeof schema !== 'object' || schema === null || known.has(path.join('.'))) return;
      const properties = 'properties' in schema ? schema.properties : null;
      if (typeof properties !== 'object' || properties === null) {
        missing.push(path.join('.'));
        return;
      }
      for (const [key, part] of Object.entries(properties)) walk(part, [...path, key]);
    };
    walk(watchJsonSchema(), []);
    expect(missing).toEqual(['$schema']);
  });
});
