// What the devices of all phases share: the logic, the world around them, and how long their boots, attempts and sleeps take.
import { type DeviceMs, dayMs, itemAt, lastsMs } from '../base/index.js';
import { effectBit, inputCode, inputCodes, type LogicTable } from '../machine/index.js';
import { nominalSleeps } from '../model/index.js';
import {
  durations,
  type Experiment,
  type Faults,
  faultsOf,
  lowAfter,
  pricesOf,
  sleepClock,
  worstSpending,
} from '../sim/index.js';
import { type ClockError, noSpans, type Spans, type VaryingMs } from '../world/index.js';
import type { Doubts } from './doubts.js';

export interface Device {
  readonly table: LogicTable;
  readonly lengthMs: number;
  readonly edges: Float64Array;
  readonly openings: Spans;
  readonly doubts: Doubts;
  readonly networkDown: Spans;
  /** All of them; a device meets those after its first boot. */
  readonly faults: Faults;
  readonly armed: 'none' | 'to-open' | 'all';
  readonly boot: Draws;
  readonly connect: Draws;
  readonly joinWaitMs: number;
  readonly sleep: Sleeps;
  readonly cooldownTimer: number;
  /** Infinity without heartbeats. */
  readonly heartbeatTimer: number;
  /** Infinity without low-battery messages. */
  readonly lowBatteryTimer: number;
  /** When the battery counts as low whatever its charge. */
  readonly batteryLow: Spans;
  /** States that do the same whether a cooldown is over or not, now and until the next delivery. */
  readonly ignoresCooldown: Uint8Array;
  /** Null: the device always has charge. */
  readonly charge: MostSpending | null;
}

/** The most charge that can go, in grains, and what a full one has until it is low or empty. */
export interface MostSpending {
  /** In each millisecond, whatever the device does. */
  readonly perMs: number;
  /** Besides, while it stays awake after an alert. */
  readonly holdPerMs: number;
  /** Within the first day of a charge, once. */
  readonly firstDay: number;
  readonly wake: number;
  readonly send: number;
  readonly usable: number;
}

/** One duration after the other, by number. */
export interface Draws {
  /** Null where they vary. */
  readonly steadyMs: number | null;
  at(index: number): number;
  /** Of as many durations as `count`, from one on. */
  sumMs(from: number, count: number): number;
}

export interface Sleeps {
  /** How long each kind lasts, in the order of `nominalMs`; null where sleeps of one kind differ. */
  readonly steadyMs: readonly number[] | null;
  /** Whether the number of a sleep decides its length. */
  readonly isNumbered: boolean;
  /** Nominal lengths: check, recheck, retry. */
  readonly nominalMs: readonly DeviceMs[];
  /** Whether the clock counts a completed sleep at its nominal length. */
  readonly countsNominal: boolean;
  lengthMs(nominalMs: DeviceMs, index: number, startMs: number): number;
  /** Instants at which the length of a sleep begun there changes, ascending. */
  readonly changesMs: Float64Array;
}

export function deviceOf(experiment: Experiment, doubts: Doubts): Device {
  const { program, timing, world, seed } = experiment;
  const { watch, table } = program;
  const clock = sleepClock(timing.clockError, seed);
  const { heartbeatIntervalMs, wakeOn, alertCooldownMs, lowBattery } = watch;
  return {
    table,
    lengthMs: world.lengthMs,
    edges: world.contact,
    openings: world.openings,
    doubts,
    networkDown: world.networkDown,
    faults: faultsOf(world, Number.NEGATIVE_INFINITY).faults,
    armed: wakeOn === 'timer' ? 'none' : wakeOn === 'opening' ? 'to-open' : 'all',
    boot: draws(timing.bootTime, seed, 'boot'),
    connect: draws(timing.connectTime, seed, 'connect'),
    joinWaitMs: timing.joinWaitMs,
    sleep: sleepsOf(timing.clockError, seed, nominalSleeps(watch)),
    cooldownTimer: clock.timer(alertCooldownMs),
    heartbeatTimer:
      heartbeatIntervalMs === null ? Number.POSITIVE_INFINITY : clock.timer(heartbeatIntervalMs),
    lowBatteryTimer:
      lowBattery === undefined ? Number.POSITIVE_INFINITY : clock.timer(lowBattery.repeatMs),
    batteryLow: lowBattery === undefined ? noSpans : (world.batteryLow ?? noSpans),
    ignoresCooldown: cooldownIgnored(table),
    charge: mostSpending(experiment),
  };
}

function mostSpending({ program, timing, charge }: Experiment): MostSpending | null {
  if (charge == null) return null;
  const prices = pricesOf(charge.supply);
  const { wake, send } = worstSpending(prices, program, timing);
  const { lowBattery } = program.watch;
  const low = lowBattery === undefined ? null : lowAfter(charge.supply, lowBattery.level);
  return {
    perMs: Number(prices.sleepPerMs + prices.biasPerMs + prices.selfPerMs),
    holdPerMs: Number(prices.holdPerMs),
    firstDay: Number(prices.firstDayPerMs) * dayMs,
    wake,
    send,
    usable: Number(low !== null && low < prices.usable ? low : prices.usable),
  };
}

function draws(varying: VaryingMs, seed: string, purpose: string): Draws {
  const stream = durations(varying, seed, purpose);
  const { steadyMs } = stream;
  if (steadyMs !== null) return { steadyMs, at: () => steadyMs, sumMs: (_, n) => n * steadyMs };
  // The sums of all durations up to each.
  const sums = [0];
  const sumTo = (index: number): number => {
    for (let last = sums.length - 1; last < index; last += 1) {
      sums.push(itemAt(sums, last) + stream.next());
    }
    return itemAt(sums, index);
  };
  return {
    steadyMs,
    at: (index) => sumTo(index + 1) - sumTo(index),
    sumMs: (from, count) => sumTo(from + count) - sumTo(from),
  };
}

/** The lengths of sleeps by their number, and not one after the other: phases take them in any order. */
function sleepsOf(error: ClockError, seed: string, nominalMs: readonly DeviceMs[]): Sleeps {
  const clock = sleepClock(error, seed);
  const { countsNominal, ppm: steady } = clock;
  const none = new Float64Array(0);
  const numbered = error.kind === 'inTurn' || error.kind === 'sleeps';
  const base = { steadyMs: null, isNumbered: numbered, nominalMs, countsNominal };
  if (steady !== null) {
    const steadyMs = nominalMs.map((nominal) => lastsMs(nominal, steady));
    return { ...base, steadyMs, lengthMs: (nominal) => lastsMs(nominal, steady), changesMs: none };
  }
  switch (error.kind) {
    case 'inTurn': {
      const last = error.ppm.length - 1;
      const lengthMs = (nominal: DeviceMs, index: number): number =>
        lastsMs(nominal, itemAt(error.ppm, Math.min(index, last)));
      return { ...base, lengthMs, changesMs: none };
    }
    case 'sleeps':
      return { ...base, lengthMs: (nominal, index) => error.ms[index] ?? nominal, changesMs: none };
    case 'curve': {
      const changesMs = Float64Array.from(error.steps.slice(1), ({ fromMs }) => fromMs);
      return {
        ...base,
        lengthMs: (nominal, _, startMs) => clock.sleepMs(nominal, startMs),
        changesMs,
      };
    }
    case 'fixed':
    case 'drawn':
      return { ...base, lengthMs: (nominal) => clock.sleepMs(nominal, 0), changesMs: none };
  }
}

/** The greatest set of states in which a check reads the same with a cooldown over as without, and that only a delivery leaves. */
function cooldownIgnored(table: LogicTable): Uint8Array {
  const { next, effects } = table;
  const states = table.phases.length;
  const ignores = new Uint8Array(states).fill(1);
  const cell = (state: number, code: number): number => next[state * inputCodes + code] ?? -1;
  for (let state = 0; state < states; state += 1) {
    for (let facts = 0; facts < 16; facts += 1) {
      const running = inputCode.check + facts;
      const over = running | inputCode.checkCooldownOver;
      const at = state * inputCodes;
      const isAlike =
        cell(state, running) === cell(state, over) && effects[at + running] === effects[at + over];
      if (!isAlike) ignores[state] = 0;
    }
  }
  for (let isChanged = true; isChanged; ) {
    isChanged = false;
    for (let state = states - 1; state >= 0; state -= 1) {
      if (ignores[state] === 0) continue;
      for (let code = 0; code < inputCodes; code += 1) {
        if (code === inputCode.alertDelivered || code === inputCode.powerLost) continue;
        const to = cell(state, code);
        if (to < 0 || ignores[to] === 1) continue;
        ignores[state] = 0;
        isChanged = true;
        break;
      }
    }
  }
  return ignores;
}

/** Which of the nominal sleeps an effects cell names. */
export function sleepIndex(effects: number): number {
  return (effects & effectBit.sleepMask) / effectBit.sleepCheck - 1;
}
