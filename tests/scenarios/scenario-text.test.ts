// A scenario that is written and read back is the same timeline, to the millisecond: counterexamples depend on it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ppm, type TrueMs, trueMs, um } from '../../src/base/index.js';
import { resetKinds } from '../../src/model/index.js';
import {
  defaultWatchFile,
  type Expectations,
  emptyScenario,
  parseScenario,
  parseWatchFile,
  type Scenario,
  type ScenarioOpening,
  scenarioText,
  type Timeline,
  timelineOf,
} from '../../src/scenarios/index.js';
import {
  type ClockError,
  type ContactFault,
  spansOf,
  type VaryingMs,
} from '../../src/world/index.js';
import { valueOf } from './reading.js';

const lengthMs = 10 * 86_400_000;
const ms = (max: number, min = 1): fc.Arbitrary<TrueMs> =>
  fc
    .oneof(fc.integer({ min, max }), fc.integer({ min, max: Math.min(max, min + 5_000) }))
    .map(trueMs);
const instants = (count: number): fc.Arbitrary<number[]> =>
  fc
    .uniqueArray(fc.integer({ min: 0, max: lengthMs - 1 }), { maxLength: count })
    .map((list) => list.sort((a, b) => a - b));

/** Stretches in order, some touching; the last may reach past the end. */
const stretches = fc
  .tuple(instants(12), fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }), fc.boolean())
  .map(([bounds, kept, endless]) =>
    bounds.flatMap((fromMs, index) => {
      const next = bounds[index + 1] ?? (endless ? Number.POSITIVE_INFINITY : undefined);
      return next === undefined || kept[index] !== true ? [] : [{ fromMs, toMs: next }];
    }),
  );

const notes = fc.oneof(
  fc.constantFrom(
    'the wind',
    'a: b',
    '# no',
    "it's",
    '"quoted"',
    'null',
    '- x',
    '5',
    'é ☃ 😀',
    '*a',
  ),
  fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }).filter((text) => {
    return text.trim() !== '' && !/[\p{Cc}\p{Cs}]/u.test(text);
  }),
);

const door: fc.Arbitrary<readonly ScenarioOpening[]> = stretches.chain((list) =>
  fc.tuple(
    ...list.map(({ fromMs, toMs }) =>
      fc
        .record({
          gapUm: fc.option(fc.integer({ min: 0, max: 1_000_000 }).map(um)),
          creeping: fc.boolean(),
          note: fc.option(notes.map((note) => note.trim())),
        })
        .map(
          ({ gapUm, creeping, note }): ScenarioOpening => ({
            fromMs: trueMs(fromMs),
            toMs,
            gapUm,
            approach: creeping && gapUm !== null ? 'creeping' : 'closing',
            note,
            source: { file: 'x' },
          }),
        ),
    ),
  ),
);

const varying: fc.Arbitrary<VaryingMs> = fc.oneof(
  ms(3_600_000, 0).map((fixed): VaryingMs => ({ kind: 'fixed', ms: fixed })),
  fc
    .tuple(ms(1_000, 0), ms(3_000_000, 1_000))
    .map(([leastMs, greatestMs]): VaryingMs => ({ kind: 'range', leastMs, greatestMs })),
  fc
    .array(ms(3_600_000, 0), { minLength: 1, maxLength: 5 })
    .map((list): VaryingMs => ({ kind: 'inTurn', ms: list })),
);

const errors = fc.integer({ min: -900_000, max: 2_000_000 }).map(ppm);
const clockError: fc.Arbitrary<ClockError> = fc.oneof(
  errors.map((error): ClockError => ({ kind: 'fixed', ppm: error })),
  fc.tuple(errors, errors).map(
    ([a, b]): ClockError => ({
      kind: 'drawn',
      leastPpm: ppm(Math.min(a, b)),
      greatestPpm: ppm(Math.max(a, b)),
    }),
  ),
  fc
    .array(errors, { minLength: 1, maxLength: 5 })
    .map((list): ClockError => ({ kind: 'inTurn', ppm: list })),
  fc.array(ms(600_000), { maxLength: 5 }).map((list): ClockError => ({ kind: 'sleeps', ms: list })),
);

const faults: fc.Arbitrary<readonly ContactFault[]> = stretches.chain((list) =>
  fc.tuple(
    ...list.map(({ fromMs, toMs }) =>
      fc
        .oneof(
          fc
            .constantFrom('open', 'shut')
            .map((at): ContactFault['reads'] => ({ kind: 'stuck', at })),
          fc
            .tuple(fc.integer({ min: 0, max: 1_000_000 }), ms(3_600_000, 60_000))
            .map(([share, slotMs]): ContactFault['reads'] => ({
              kind: 'chattering',
              openShare: share / 1_000_000,
              slotMs,
            })),
        )
        .map(
          (reads): ContactFault => ({
            fromMs: trueMs(fromMs),
            toMs: trueMs(Math.min(toMs, lengthMs)),
            reads,
          }),
        ),
    ),
  ),
);

const count = fc.integer({ min: 0, max: 1_000 });
const expectations: fc.Arbitrary<Expectations> = fc.record({
  counts: fc.tuple(count, count, fc.boolean()).map(([a, b, open]) => [
    { name: 'missed' as const, least: a, most: a },
    {
      name: 'alerts' as const,
      least: Math.min(a, b),
      most: open ? Number.POSITIVE_INFINITY : Math.max(a, b),
    },
  ]),
  worstDelayAtMostMs: fc.option(ms(lengthMs, 0)),
  worstDelayAtLeastMs: fc.option(ms(lengthMs, 0)),
});

const says = fc.option(fc.constantFrom('keeps' as const, 'clears' as const));

const scenarios: fc.Arbitrary<Scenario> = fc
  .record({
    name: notes.map((name) => name.trim()),
    start: fc.record({
      epochMs: fc.integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2040, 0, 1) }),
      timeZone: fc.constantFrom('UTC', '+02:00', '-03:30', 'Europe/Lisbon', 'Australia/Lord_Howe'),
    }),
    powerOnAtMs: ms(lengthMs - 1, 0),
    door,
    networkDown: stretches,
    powerLost: stretches,
    resets: instants(5),
    kinds: fc.array(fc.constantFrom(...resetKinds), { minLength: 5, maxLength: 5 }),
    contactFaults: faults,
    environment: fc.record({
      bootTime: fc.option(varying),
      connectTime: fc.option(varying),
      clockError: fc.option(clockError),
      reset: fc.record({ button: says, watchdog: says, software: says }),
    }),
    seed: fc.option(fc.string({ maxLength: 10 })),
    expect: fc.option(expectations),
  })
  .map(({ networkDown, powerLost, resets, kinds, ...rest }) => ({
    ...emptyScenario('x', trueMs(lengthMs)),
    ...rest,
    networkDown: spansOf(networkDown.map(({ fromMs, toMs }) => [fromMs, toMs] as const)),
    powerLost: spansOf(powerLost.map(({ fromMs, toMs }) => [fromMs, toMs] as const)),
    resetsMs: Float64Array.from(resets),
    resetKinds: kinds.slice(0, resets.length),
  }));

const watch = valueOf(
  parseWatchFile('contact: { operateGap: 8, releaseGap: 12, bounceTime: 3ms }', 'w.yaml'),
);

/** All of a timeline but where in its file things stood. */
function essence(scenario: Scenario): Omit<Timeline, 'remarks'> & { readonly codes: string[] } {
  const { remarks, ...timeline } = valueOf(timelineOf({ ...scenario, file: 'same' }, watch));
  return { ...timeline, codes: remarks.map(({ code }) => code) };
}

describe('a scenario that is written and read back', () => {
  it('is the same timeline, to the millisecond', () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        const text = scenarioText(scenario);
        expect(essence(valueOf(parseScenario(text, 'again.yaml'))), text).toEqual(
          essence(scenario),
        );
      }),
      { numRuns: 150 },
    );
  });

  it('is the same text when it is written once more', () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        const text = scenarioText(scenario);
        expect(scenarioText(valueOf(parseScenario(text, 'again.yaml')))).toBe(text);
      }),
    );
  });

  it('keeps its profile and its temperatures', () => {
    const text = [
      'name: x',
      'generate: { profile: flower-store, seed: spring }',
      'temperature: [{ at: +1h, celsius: -3.25 }]',
    ].join('\n');
    const scenario = valueOf(parseScenario(text, 'x.yaml'));
    const again = valueOf(parseScenario(scenarioText(scenario), 'x.yaml'));
    expect(again).toEqual(scenario);
  });
});

describe('the text of a scenario', () => {
  it('is one that a person would write', () => {
    const scenario: Scenario = {
      ...emptyScenario('The hatch, forgotten', trueMs(7_200_000)),
      start: { epochMs: Date.UTC(2026, 4, 8, 18), timeZone: 'Europe/Lisbon' },
      door: [
        {
          fromMs: trueMs(60_250),
          toMs: Number.POSITIVE_INFINITY,
          gapUm: um(10_500),
          approach: 'creeping',
          note: 'the wind',
          source: { file: 'x' },
        },
      ],
      networkDown: spansOf([[0, 90_000]]),
      expect: {
        counts: [{ name: 'missed', least: 0, most: 0 }],
        worstDelayAtMostMs: null,
        worstDelayAtLeastMs: null,
      },
    };
    expect(scenarioText(scenario, ['Found by chance.', 'Two\nlines'])).toBe(
      [
        '# Found by chance.',
        '# Two lines',
        'name: The hatch, forgotten',
        'start: 2026-05-08T19:00:00+01:00[Europe/Lisbon]',
        'length: 2h',
        'door:',
        '  - { at: +1m0.25s, until: end, gap: 10.5mm, approach: creeping, note: the wind }',
        'network:',
        '  - { down: +0s, for: 1m30s }',
        'expect:',
        '  missed: 0',
        '',
      ].join('\n'),
    );
  });

  it('of a scenario without anything in it is its name, start and length', () => {
    const empty = emptyScenario('Nothing', trueMs(86_400_000));
    expect(scenarioText(empty)).toBe('name: Nothing\nstart: 2026-05-04T00:00:00Z\nlength: 1d\n');
    expect(valueOf(timelineOf(empty, defaultWatchFile())).world.openings.fromMs).toHaveLength(0);
  });
});
