// A firmware's run on the supply of its experiment: where the charge ends the timeline is run again with the power away until the
// next charge, and so it is where the battery is low, somebody charges it, or its voltage reads otherwise than it did.
import { cellAt } from '../base/index.js';
import { type ChargePlan, mostFlats, mostVoltageRuns } from '../model/index.js';
import { type Experiment, faultsOf, lowAfter, pricesOf } from '../sim/index.js';
import { noSpans, type Spans, spansOf, type World } from '../world/index.js';
import { chargesOf, emptyFrom, voltages } from './charge.js';
import type { RigRun } from './run.js';

export interface FlatSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A run while its supply is worked out: what the battery and the people have done to its world so far. */
interface Draining {
  readonly state: { run: RigRun; readonly flat: FlatSpan[]; readonly low: FlatSpan[] };
  readonly again: () => void;
  /** When so much of a charge has gone; null: it does not before the next charge. */
  readonly reaches: (fullMs: number, level: bigint) => number | null;
  readonly chargedAfter: (atMs: number) => number;
  readonly chargeIfWarned: (fullMs: number) => void;
}

function openDraining(
  first: RigRun,
  experiment: Experiment,
  on: { readonly charge: ChargePlan; readonly over: (world: World) => RigRun },
): Draining {
  const { charge, over } = on;
  const { world } = experiment;
  const { firstBootMs } = faultsOf(world);
  const prices = pricesOf(charge.supply);
  const charges = [...chargesOf(experiment, firstBootMs)];
  let batteryMv: readonly number[] | null = null;
  const state: Draining['state'] = { run: first, flat: [], low: [] };
  const worldNow = (): World => ({
    ...world,
    powerLost: spansOf([...pairsOf(world.powerLost), ...state.flat.map(pairOf)]),
    ...(state.low.length === 0
      ? {}
      : {
          batteryLow: spansOf([...pairsOf(world.batteryLow ?? noSpans), ...state.low.map(pairOf)]),
        }),
    ...(batteryMv === null ? {} : { batteryMv }),
  });
  const now = (): Experiment => ({ ...experiment, world: worldNow() });
  const settleVoltage = (): void => {
    for (let runs = 0; runs < mostVoltageRuns; runs += 1) {
      const { reply } = state.run;
      if (reply.totals?.hasReadVoltage !== true) return;
      const reads = voltages(reply, now(), {
        prices,
        fullMs: firstBootMs,
        charges,
        supply: charge.supply,
      });
      if (reads === null || areAlike(reads, batteryMv)) return;
      batteryMv = reads;
      state.run = over(worldNow());
    }
  };
  const again = (): void => {
    state.run = over(worldNow());
    settleVoltage();
  };
  const chargedAfter = (atMs: number): number =>
    charges.find((chargeMs) => chargeMs > atMs) ?? Number.POSITIVE_INFINITY;
  settleVoltage();
  return {
    state,
    again,
    chargedAfter,
    reaches(fullMs, level) {
      const atMs = emptyFrom(state.run.reply, now(), { prices, fullMs, charges, level });
      return atMs === null || atMs >= world.lengthMs ? null : atMs;
    },
    chargeIfWarned(fullMs) {
      const comesMs = warnedCharge(state.run, charge, fullMs);
      if (comesMs >= Math.min(chargedAfter(fullMs), world.lengthMs)) return;
      charges.push(comesMs);
      charges.sort((a, b) => a - b);
      const low = state.low.at(-1);
      if (low !== undefined && low.fromMs >= fullMs) {
        state.low[state.low.length - 1] = { ...low, toMs: comesMs };
      }
      again();
    },
  };
}

/**
 * From one charge to the next, the instants at which the battery is low and empty, and the voltage that the firmware reads.
 * Nothing before such an instant depends on it, so that each is right once all before it are.
 * @param first the run as if there always were charge.
 * @param over runs the firmware through another world.
 */
export function drainedRun(
  first: RigRun,
  experiment: Experiment,
  over: (world: World) => RigRun,
): RigRun {
  const { charge, world, program } = experiment;
  if (charge === null || charge === undefined) return first;
  const { usable } = pricesOf(charge.supply);
  const { lowBattery } = program.watch;
  const lowLevel = lowBattery === undefined ? null : lowAfter(charge.supply, lowBattery.level);
  const draining = openDraining(first, experiment, { charge, over });
  const { state, reaches, chargedAfter } = draining;
  let fullMs = faultsOf(world).firstBootMs;
  while (
    fullMs < world.lengthMs &&
    state.run.failure === null &&
    state.flat.length + state.low.length < mostFlats
  ) {
    // A firmware may find out by the voltage, before the level of the watch.
    draining.chargeIfWarned(fullMs);
    const lowMs = lowLevel === null ? null : reaches(fullMs, lowLevel);
    if (lowMs !== null) {
      state.low.push({ fromMs: lowMs, toMs: chargedAfter(lowMs) });
      draining.again();
      draining.chargeIfWarned(fullMs);
    }
    const emptyMs = reaches(fullMs, usable);
    if (emptyMs !== null) {
      const chargedMs = chargedAfter(emptyMs);
      state.flat.push({ fromMs: emptyMs, toMs: Math.min(chargedMs, world.lengthMs) });
      draining.again();
    }
    fullMs = chargedAfter(fullMs);
  }
  const { run, flat } = state;
  if (flat.length === 0) return run;
  const flatMs = flat.reduce((sum, span) => sum + span.toMs - span.fromMs, 0);
  const { trace } = run;
  return { ...run, trace: { ...trace, flat, tally: { ...trace.tally, flatMs } } };
}

function areAlike(one: readonly number[], other: readonly number[] | null): boolean {
  return one.length === other?.length && one.every((value, index) => value === other[index]);
}

/** When somebody charges for the first low-battery message from an instant on; Infinity: nobody does. */
function warnedCharge({ trace }: RigRun, { charging }: ChargePlan, fromMs: number): number {
  const first = trace.lowBattery.find(({ deliveredMs }) => deliveredMs >= fromMs);
  if (first === undefined || charging.afterWarningMs === undefined) return Number.POSITIVE_INFINITY;
  return first.deliveredMs + charging.afterWarningMs;
}

function pairOf({ fromMs, toMs }: FlatSpan): [number, number] {
  return [fromMs, toMs];
}

function pairsOf({ fromMs, toMs }: Spans): [number, number][] {
  return Array.from(fromMs, (from, index) => [from, cellAt(toMs, index)]);
}
