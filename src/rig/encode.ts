// An experiment as the numbers that the rig's host reads (assets/rig/world.c): all the device cannot control, with what
// is drawn at random left to the host as the states of the simulator's own streams.
import { invariant, streamState } from '../base/index.js';
import { type Experiment, faultsOf, sleepClock } from '../sim/index.js';
import { type ClockError, noSpans, type VaryingMs } from '../world/index.js';

/** What of a run is wanted. */
export interface Ask {
  /** Every wake, or only sends and totals. */
  readonly wakes: boolean;
  /** The wake whose retained memory is wanted, counted from 0; null: none. */
  readonly memoryOf?: number | null;
  /** What the device's clock reads at power-on. */
  readonly clockStartsMs?: number;
  /** A power loss shorter than this leaves the bytes of DW_RETAINED_NOINIT variables. */
  readonly noinitKeepsMs?: number;
  /** Milliseconds since 1970 at the start of the timeline; null or absent: nobody knows. */
  readonly wallStartsMs?: number | null;
  /** What a full battery's voltage reads; null or absent: nothing says how it depends on the charge. */
  readonly fullMv?: number | null;
  /** Whether a reset by the device's own watchdog clears what is retained. */
  readonly watchdogClears?: boolean;
}

const timesKind = { fixed: 0, range: 1, inTurn: 2 } as const;
const clockKind = { constant: 0, nominal: 1, curve: 2, inTurn: 3, sleeps: 4 } as const;

/** The most numbers that the host has room for. */
const mostNumbers = 2 ** 27;

/** @throws InvariantError when the timeline has more edges than the host has room for. */
export function rigNumbers({ timing, world, seed }: Experiment, ask: Ask): Float64Array {
  const { faults, firstBootMs } = faultsOf(world);
  const { contact, networkDown, batteryLow = noSpans } = world;
  const parts: ArrayLike<number>[] = [
    [world.lengthMs, firstBootMs, ask.wakes ? 1 : 0, ask.memoryOf ?? -1, ask.clockStartsMs ?? 0],
    [ask.noinitKeepsMs ?? 0, garbageSeed(seed), ask.wallStartsMs ?? -1, timing.joinWaitMs],
    [ask.watchdogClears === true ? 1 : 0],
    timesNumbers(timing.bootTime, seed, 'boot'),
    timesNumbers(timing.connectTime, seed, 'connect'),
    clockNumbers(timing.clockError, seed),
    ...[contact, networkDown.fromMs, networkDown.toMs].flatMap(column),
    ...[batteryLow.fromMs, batteryLow.toMs].flatMap(column),
    ...[faults.atMs, faults.backMs, faults.clears, faults.kinds].flatMap(column),
    ...column(world.batteryMv ?? (ask.fullMv == null ? [] : [0, ask.fullMv])),
  ];
  const count = parts.reduce((sum, part) => sum + part.length, 0);
  invariant(count <= mostNumbers, 'the timeline fits the rig', { count });
  const numbers = new Float64Array(count);
  let at = 0;
  for (const part of parts) {
    numbers.set(part, at);
    at += part.length;
  }
  return numbers;
}

/** Of what memory holds that nothing has set: a whole number of 32 bits. */
function garbageSeed(seed: string): number {
  const [share] = streamState(seed, 'garbage');
  return Math.floor(share * 2 ** 32);
}

function column(values: ArrayLike<number>): ArrayLike<number>[] {
  return [[values.length], values];
}

function timesNumbers(varying: VaryingMs, seed: string, purpose: string): number[] {
  const state = streamState(seed, purpose);
  const values = valuesOf(varying);
  return [timesKind[varying.kind], ...state, values.length, ...values];
}

function valuesOf(varying: VaryingMs): readonly number[] {
  switch (varying.kind) {
    case 'fixed':
      return [varying.ms];
    case 'range':
      return [varying.leastMs, varying.greatestMs];
    case 'inTurn':
      return varying.ms;
  }
}

function clockNumbers(error: ClockError, seed: string): number[] {
  const list = (kind: keyof typeof clockKind, values: readonly number[]): number[] => [
    clockKind[kind],
    values.length,
    ...values,
  ];
  switch (error.kind) {
    case 'fixed':
      return list('constant', [error.ppm]);
    case 'drawn': {
      const clock = sleepClock(error, seed);
      invariant(clock.ppm !== null, 'a drawn clock error is one for the whole run');
      return list(clock.countsNominal ? 'nominal' : 'constant', [clock.ppm]);
    }
    case 'curve':
      return list(
        'curve',
        error.steps.flatMap(({ fromMs, ppm }) => [fromMs, ppm]),
      );
    case 'inTurn':
      return list('inTurn', error.ppm);
    case 'sleeps':
      return list('sleeps', error.ms);
  }
}
