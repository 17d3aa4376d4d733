// Experiments in plain numbers. The default is the plain watch: a check every three minutes and 400 ms, an alert
// on the second open check, four seconds to connect, an ideal contact, a perfect clock.
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import {
  compileTable,
  type LogicSettings,
  type LogicTable,
  logicKey,
  type WatchSettings,
  watchLogic,
} from '../../src/machine/index.js';
import { type RangeMs, type Requirements, type TimingRanges } from '../../src/model/index.js';
import { type Experiment, type Program, simulate, type Trace } from '../../src/sim/index.js';
import {
  type ContactEdges,
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  spansOf,
  type World,
} from '../../src/world/index.js';

export const plainWatch: WatchSettings = {
  checkIntervalMs: deviceMs(180_000),
  recheckIntervalMs: deviceMs(180_000),
  retryIntervalMs: deviceMs(60_000),
  escalationThreshold: { open: 2, outOf: 2 },
  clearThreshold: 1,
  alertCooldownMs: deviceMs(1_800_000),
  cooldownEndsWhenShut: true,
  afterAlert: 'keep-watching',
  retryAttempts: 5,
  unsentWhenShut: 'send',
  wakeOn: 'timer',
  heartbeats: false,
  heartbeatIntervalMs: null,
};

/** The plain watch with some settings changed. */
export function watchWith(changes: Partial<WatchSettings>): WatchSettings {
  return { ...plainWatch, ...changes };
}

const tables = new Map<string, LogicTable>();

/** The table of a logic, compiled just once a test file: that takes longer than most runs. */
export function tableOf(logic: LogicSettings): LogicTable {
  const key = logicKey(logic);
  const table = tables.get(key) ?? compileTable(watchLogic(logic));
  tables.set(key, table);
  return table;
}

export function programOf(watch: WatchSettings): Program {
  return { watch, table: tableOf(watch) };
}

/** Boot, connect and clock error that never vary. */
export function timingWith({
  bootMs = 400,
  connectMs = 4_000,
  joinWaitMs = 0,
  errorPpm = 0,
}: {
  readonly bootMs?: number;
  readonly connectMs?: number;
  readonly joinWaitMs?: number;
  readonly errorPpm?: number;
}): DeviceTiming {
  return deviceTiming({
    bootTime: { kind: 'fixed', ms: trueMs(bootMs) },
    connectTime: { kind: 'fixed', ms: trueMs(connectMs) },
    joinWaitMs,
    clockError: { kind: 'fixed', ppm: ppm(errorPpm) },
  });
}

type NumberOrRange = number | readonly [least: number, most: number];

function rangeOf(given: NumberOrRange): RangeMs {
  const [least, most] = typeof given === 'number' ? [given, given] : given;
  return { least, most };
}

/** The times of a device as its watch file gives them; the same as `timingWith` where there are no ranges. */
export function rangesWith({
  bootMs = 400,
  connectMs = 4_000,
  joinWaitMs = 0,
  errorPpm = 0,
}: {
  readonly bootMs?: NumberOrRange;
  readonly connectMs?: NumberOrRange;
  readonly joinWaitMs?: number;
  readonly errorPpm?: NumberOrRange;
}): TimingRanges {
  const { least, most } = rangeOf(errorPpm);
  return {
    bootTime: rangeOf(bootMs),
    connectTime: rangeOf(connectMs),
    joinWaitMs,
    clockError: { kind: 'range', least: ppm(least), most: ppm(most) },
  };
}

export type Pairs = readonly (readonly [fromMs: number, toMs: number])[];

/** A world in plain numbers; without `contact` the contact is ideal. */
export interface WorldNumbers {
  readonly lengthMs: number;
  readonly openings?: Pairs;
  readonly contact?: ContactEdges;
  readonly networkDown?: Pairs;
  readonly powerLost?: Pairs;
  readonly resetsMs?: readonly number[];
  readonly powerOnAtMs?: number;
}

export function worldOf(numbers: WorldNumbers): World {
  const openings = spansOf(numbers.openings ?? []);
  return {
    lengthMs: trueMs(numbers.lengthMs),
    openings,
    contact: numbers.contact ?? idealContactEdges(openings),
    networkDown: spansOf(numbers.networkDown ?? []),
    powerLost: spansOf(numbers.powerLost ?? []),
    resetsMs: Float64Array.from(numbers.resetsMs ?? []),
    powerOnAtMs: trueMs(numbers.powerOnAtMs ?? 0),
  };
}

export function experimentOf(
  world: WorldNumbers,
  {
    watch = {},
    timing = timingWith({}),
    seed = 'goose-house',
  }: {
    readonly watch?: Partial<WatchSettings>;
    readonly timing?: DeviceTiming;
    readonly seed?: string;
  } = {},
): Experiment {
  return { program: programOf(watchWith(watch)), timing, world: worldOf(world), seed };
}

/** Runs an experiment and keeps every wake. */
export function traceOf(...given: Parameters<typeof experimentOf>): Trace {
  return simulate(experimentOf(...given), { record: 'all' });
}

export function asked({
  leaveOpenAfterMs = 180_000,
  reportWithinMs = null,
}: {
  readonly leaveOpenAfterMs?: number;
  readonly reportWithinMs?: number | null;
}): Requirements {
  return {
    leaveOpenAfterMs: trueMs(leaveOpenAfterMs),
    reportWithinMs: reportWithinMs === null ? null : trueMs(reportWithinMs),
    quietUpToMs: null,
  };
}
