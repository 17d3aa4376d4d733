// Watches, device bodies and faulty contacts for property tests, at three scales: a few milliseconds, where every
// boundary is hit all the time; a few seconds; and the minutes of real watches.
import fc from 'fast-check';
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import { doorTimelines, rhythmOf } from '../../src/hunt/index.js';
import type { LogicSettings, WatchSettings } from '../../src/machine/index.js';
import type { Experiment, Program } from '../../src/sim/index.js';
import {
  type ClockError,
  type ContactFault,
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  type Spans,
  spansOf,
  type VaryingMs,
  type World,
  withFaults,
} from '../../src/world/index.js';
import { tableOf } from './experiments.js';

export interface Scale {
  readonly leastMs: number;
  readonly mostMs: number;
  readonly mostBootMs: number;
  readonly mostConnectMs: number;
  readonly lengthMs: number;
  readonly errorPpm: number;
}

export const scales: readonly Scale[] = [
  {
    leastMs: 2,
    mostMs: 12,
    mostBootMs: 3,
    mostConnectMs: 6,
    lengthMs: 300,
    errorPpm: 400_000,
  },
  {
    leastMs: 1_000,
    mostMs: 4_000,
    mostBootMs: 500,
    mostConnectMs: 3_000,
    lengthMs: 90_000,
    errorPpm: 50_000,
  },
  {
    leastMs: 60_000,
    mostMs: 300_000,
    mostBootMs: 2_000,
    mostConnectMs: 20_000,
    lengthMs: 14_400_000,
    errorPpm: 32_000,
  },
];

/** Every setting that shapes decisions, small enough to compile in a moment. */
export const logicSettings: fc.Arbitrary<LogicSettings> = fc
  .record({
    open: fc.constantFrom(2, 1, 3),
    more: fc.constantFrom(0, 1, 2),
    clearThreshold: fc.constantFrom(1, 2, 3),
    cooldownEndsWhenShut: fc.boolean(),
    afterAlert: fc.constantFrom('keep-watching', 'keep-watching', 'hold-until-reset'),
    retryAttempts: fc.constantFrom(2, 1, 3),
    unsentWhenShut: fc.constantFrom('send', 'drop'),
    heartbeats: fc.boolean(),
    warns: fc.boolean(),
  })
  .map(({ open, more, warns, ...rest }) => ({
    ...rest,
    escalationThreshold: { open, outOf: open + more },
    ...(warns ? { lowBattery: anyLowBattery } : {}),
  }));

/** The logic looks at no number of it. */
const anyLowBattery = {
  level: { kind: 'share', sharePpm: 200_000 },
  repeatMs: deviceMs(86_400_000),
} as const;

/** The same without a low-battery message. */
export function withoutLowBattery({ lowBattery: _, ...logic }: LogicSettings): LogicSettings {
  return logic;
}

/** The same with low-battery messages so far apart that only one matters to an opening. */
export function rarelyWarned(watch: WatchSettings): WatchSettings {
  const { lowBattery } = watch;
  if (lowBattery === undefined) return watch;
  return { ...watch, lowBattery: { ...lowBattery, repeatMs: deviceMs(100_000_000) } };
}

/** Lengths for the logic's sleeps and timers; cooldown and heartbeat often a whole number of periods. */
export function watchSettings(logic: LogicSettings, scale: Scale): fc.Arbitrary<WatchSettings> {
  const interval = fc.integer({ min: scale.leastMs, max: scale.mostMs });
  const timer = fc
    .tuple(fc.nat(5), interval, fc.constantFrom(0, 1, -1))
    .map(([count, ms, by]) => Math.max(0, count * ms + by));
  return fc
    .record({
      checkIntervalMs: interval,
      recheckIntervalMs: interval,
      retryIntervalMs: interval,
      alertCooldownMs: timer,
      wakeOn: fc.constantFrom('timer', 'timer', 'opening', 'any-change'),
      heartbeatIntervalMs: timer.map((ms) => Math.max(ms, scale.leastMs)),
      level: fc.oneof(
        fc
          .constantFrom(50_000, 200_000, 500_000, 990_000)
          .map((sharePpm) => ({ kind: 'share' as const, sharePpm })),
        fc
          .integer({ min: 2_400, max: 4_100 })
          .map((voltageMv) => ({ kind: 'voltage' as const, voltageMv })),
      ),
      repeatMs: timer,
    })
    .map((drawn) => ({
      ...logic,
      checkIntervalMs: deviceMs(drawn.checkIntervalMs),
      recheckIntervalMs: deviceMs(drawn.recheckIntervalMs),
      retryIntervalMs: deviceMs(drawn.retryIntervalMs),
      alertCooldownMs: deviceMs(drawn.alertCooldownMs),
      wakeOn: drawn.wakeOn,
      heartbeatIntervalMs: logic.heartbeats ? deviceMs(drawn.heartbeatIntervalMs) : null,
      ...(logic.lowBattery === undefined
        ? {}
        : { lowBattery: { level: drawn.level, repeatMs: deviceMs(drawn.repeatMs) } }),
    }));
}

function varying(leastMs: number, mostMs: number): fc.Arbitrary<VaryingMs> {
  const ms = fc.integer({ min: leastMs, max: mostMs }).map(trueMs);
  return fc.oneof(
    { weight: 3, arbitrary: ms.map((fixed) => ({ kind: 'fixed' as const, ms: fixed })) },
    {
      weight: 1,
      arbitrary: fc.tuple(ms, ms).map(([one, other]) => ({
        kind: 'range' as const,
        leastMs: trueMs(Math.min(one, other)),
        greatestMs: trueMs(Math.max(one, other)),
      })),
    },
    {
      weight: 1,
      arbitrary: fc
        .array(ms, { minLength: 1, maxLength: 4 })
        .map((list) => ({ kind: 'inTurn' as const, ms: list })),
    },
  );
}

function clockError({ errorPpm, lengthMs, leastMs, mostMs }: Scale): fc.Arbitrary<ClockError> {
  const error = fc
    .oneof(fc.constant(0), fc.integer({ min: -errorPpm, max: errorPpm }))
    .map((value) => ppm(value));
  const step = fc.record({ fromMs: fc.nat(lengthMs).map(trueMs), ppm: error });
  return fc.oneof(
    { weight: 4, arbitrary: error.map((fixed) => ({ kind: 'fixed' as const, ppm: fixed })) },
    {
      weight: 2,
      arbitrary: fc.tuple(error, error).map(([one, other]) => ({
        kind: 'drawn' as const,
        leastPpm: ppm(Math.min(one, other)),
        greatestPpm: ppm(Math.max(one, other)),
      })),
    },
    {
      weight: 1,
      arbitrary: fc.array(step, { minLength: 1, maxLength: 4 }).map((steps) => ({
        kind: 'curve' as const,
        steps: steps.toSorted((a, b) => a.fromMs - b.fromMs),
      })),
    },
    {
      weight: 1,
      arbitrary: fc
        .array(error, { minLength: 1, maxLength: 4 })
        .map((list) => ({ kind: 'inTurn' as const, ppm: list })),
    },
    {
      weight: 1,
      arbitrary: fc
        .array(fc.integer({ min: leastMs, max: mostMs }).map(trueMs), { maxLength: 8 })
        .map((list) => ({ kind: 'sleeps' as const, ms: list })),
    },
  );
}

function deviceTimings(scale: Scale): fc.Arbitrary<DeviceTiming> {
  return fc
    .record({
      bootTime: varying(0, scale.mostBootMs),
      connectTime: varying(0, scale.mostConnectMs),
      joinWaitMs: fc.oneof(fc.constant(0), fc.nat(5 * scale.mostConnectMs + 20)),
      clockError: clockError(scale),
    })
    .map((timing) => deviceTiming(timing));
}

/** Stuck and chattering contacts that do not overlap. */
function contactFaults({ lengthMs, leastMs }: Scale): fc.Arbitrary<readonly ContactFault[]> {
  const reads = fc.oneof(
    fc.constantFrom({ kind: 'stuck' as const, at: 'open' as const }),
    fc.constantFrom({ kind: 'stuck' as const, at: 'shut' as const }),
    fc.integer({ min: Math.ceil(leastMs / 20), max: leastMs }).map((slotMs) => ({
      kind: 'chattering' as const,
      openShare: 0.5,
      slotMs: trueMs(slotMs),
    })),
  );
  const fault = fc.record({
    gapMs: fc.nat(Math.floor(lengthMs / 4)),
    forMs: fc.integer({ min: 1, max: leastMs * 20 }),
    reads,
  });
  return fc.array(fault, { maxLength: 2 }).map((drawn) => {
    const faults: ContactFault[] = [];
    let freeFromMs = 0;
    for (const { gapMs, forMs, reads: reading } of drawn) {
      const fromMs = freeFromMs + gapMs;
      freeFromMs = fromMs + forMs;
      faults.push({ fromMs: trueMs(fromMs), toMs: trueMs(freeFromMs), reads: reading });
    }
    return faults;
  });
}

/** Worlds around a watch's own rhythm, with faulty contacts and a late power-on now and then. */
function worlds(watch: WatchSettings, timing: DeviceTiming, scale: Scale): fc.Arbitrary<World> {
  const lengthMs = fc.integer({ min: 1, max: scale.lengthMs });
  const shape = {
    lengthMs: scale.lengthMs,
    rhythm: rhythmOf(watch, timing),
    mostOutages: 3,
    mostPowerCuts: 2,
    mostResets: 3,
  };
  return fc
    .record({
      world: doorTimelines(shape),
      lengthMs: fc.option(lengthMs, { freq: 2 }),
      powerOnAtMs: fc.option(fc.nat(scale.lengthMs), { freq: 5 }),
      faults: fc.option(contactFaults(scale), { freq: 3 }),
      low: fc.array(fc.tuple(fc.nat(scale.lengthMs), fc.integer({ min: 1, max: scale.lengthMs })), {
        maxLength: 2,
      }),
      resets: fc.array(fc.boolean(), { minLength: shape.mostResets, maxLength: shape.mostResets }),
    })
    .map((drawn) => {
      const endMs = drawn.lengthMs ?? scale.lengthMs;
      const openings = upTo(drawn.world.openings, endMs);
      const resetsMs = drawn.world.resetsMs.filter((atMs) => atMs < endMs);
      return {
        ...drawn.world,
        openings,
        networkDown: upTo(drawn.world.networkDown, endMs),
        powerLost: upTo(drawn.world.powerLost, endMs),
        resetsMs,
        resetEffects: Array.from(resetsMs, (_, index) => ({
          kind: 'button' as const,
          clears: drawn.resets[index] === true,
        })),
        batteryLow: upTo(
          spansOf(drawn.low.map(([fromMs, forMs]): [number, number] => [fromMs, fromMs + forMs])),
          endMs,
        ),
        lengthMs: trueMs(endMs),
        powerOnAtMs: trueMs(drawn.powerOnAtMs ?? 0),
        contact: withFaults(idealContactEdges(openings), drawn.faults ?? [], 'hatch'),
      };
    });
}

/** As a timeline of this length has them: what ends beyond it does not end. */
function upTo({ fromMs, toMs }: Spans, endMs: number): Spans {
  const pairs = Array.from(fromMs, (ms, index): [number, number] => [ms, toMs[index] ?? ms]);
  return spansOf(
    pairs
      .filter(([ms]) => ms < endMs)
      .map(([ms, untilMs]) => [ms, untilMs > endMs ? Number.POSITIVE_INFINITY : untilMs]),
  );
}

/** A few logics that stay the same, for laws of runs: their tables are compiled just once a test file. */
export const someLogics: fc.Arbitrary<LogicSettings> = fc.constantFrom(
  ...fc.sample(logicSettings, { numRuns: 16, seed: 1 }),
);

/** Several experiments of one logic: compiling its table costs more than running it. */
export function experiments(
  scale: Scale,
  most: number,
  logics = logicSettings,
): fc.Arbitrary<readonly Experiment[]> {
  return logics.chain((logic) => {
    const table = tableOf(logic);
    const experiment = watchSettings(logic, scale).chain((watch) =>
      experimentsWith({ watch, table }, scale),
    );
    return fc.array(experiment, { minLength: 1, maxLength: most, size: 'max' });
  });
}

/** Experiments of one watch. */
export function experimentsWith(program: Program, scale: Scale): fc.Arbitrary<Experiment> {
  return fc
    .tuple(deviceTimings(scale), fc.constantFrom('a', 'b'))
    .chain(([timing, seed]) =>
      worlds(program.watch, timing, scale).map((world) => ({ program, timing, world, seed })),
    );
}
