// When to warn of a low battery, and how long its owner may not know that the watch is dead.
import { lastsMs } from '../base/index.js';
import type { LowBatteryLevel, WatchSettings } from '../machine/index.js';
import {
  availablePc,
  clockErrorsOf,
  pcPerNah,
  type SupplySettings,
  sleepOf,
  type TimingRanges,
  voltageAtUsablePc,
} from '../model/index.js';
import { leftWhenLowPc } from '../sim/index.js';
import { divided, million } from './amounts.js';
import { lifeMs } from './life.js';
import type { Spending } from './spending.js';

/** The least time between the warning of a watch and its empty battery. */
export const warningMs = 7 * 86_400_000;

export interface LowBattery {
  /** What is left of the usable charge at that moment, in whole nAh. */
  readonly usableLeftNah: number;
  /** The same as a share of it, as `watch.lowBattery.at` counts, in parts per million. */
  readonly usableLeftPpm: number;
  /** What is left of a full charge then, the unusable part included, in parts per million. */
  readonly leftPpm: number;
  /** By the discharge curve; null: none is given. */
  readonly voltageMv: number | null;
}

/** The least charge at which `warningMs` of watching remain; null: not even a full one holds so much. */
export function lowBattery(spending: Spending, supply: SupplySettings): LowBattery | null {
  const needed = (spending.totalPc * BigInt(warningMs)) / BigInt(spending.lengthMs) + 1n;
  const available = availablePc(supply);
  if (needed > available) return null;
  const full = BigInt(supply.capacityNah) * pcPerNah;
  const left = full - available + needed;
  const leftPpm = Number((left * million + full - 1n) / full);
  return {
    usableLeftNah: Number((needed + pcPerNah - 1n) / pcPerNah),
    usableLeftPpm: Number((needed * million + available - 1n) / available),
    leftPpm,
    voltageMv: voltageAtUsablePc(supply, needed),
  };
}

/** When the message comes that the watch file sets. */
export interface SetWarning {
  readonly level: LowBatteryLevel;
  /** What is left of the usable charge then, in parts per million; null: the battery is empty before. */
  readonly usableLeftPpm: number | null;
  /** The voltage at rest when the usable charge has gone, in whole mV rounded up; null: no curve is given. */
  readonly endMv: number | null;
  /** How long the rest lasts at a door that nobody opens; null: the message never comes, or over a hundred years before the end. */
  readonly beforeEndMs: number | null;
  /** The same at the costliest timeline that continues watching; null: no timeline costs more than such a door. */
  readonly busiest: { readonly name: string; readonly beforeEndMs: number | null } | null;
}

export function setWarning(
  level: LowBatteryLevel,
  supply: SupplySettings,
  { quiet, busiest }: { readonly quiet: Spending; readonly busiest: NamedSpending },
): SetWarning {
  const endMv = voltageAtUsablePc(supply, 0n);
  const leftPc = leftWhenLowPc(supply, level);
  // Near the end charge is used evenly.
  const lasts = (spending: Spending): number | null => {
    const life = lifeMs(spending, supply);
    if (leftPc === null || life === null || spending.totalPc === 0n) return null;
    return Math.min(life, Number((leftPc * BigInt(spending.lengthMs)) / spending.totalPc));
  };
  const { name, spending } = busiest;
  return {
    level,
    usableLeftPpm: leftPc === null ? null : Number((leftPc * million) / availablePc(supply)),
    endMv,
    beforeEndMs: lasts(quiet),
    busiest: name === null ? null : { name, beforeEndMs: lasts(spending) },
  };
}

/** The average use that costs most. */
export interface NamedSpending {
  readonly spending: Spending;
  /** Of the timeline; null: a door that nobody opens. */
  readonly name: string | null;
}

/**
 * The longest time from a watch's death to the heartbeat that its owner misses: it dies just after one, and the
 * next is due at the first check after the interval. Null: without heartbeats nobody notices.
 */
export function silentForAtMostMs(watch: WatchSettings, timing: TimingRanges): number | null {
  const beat = watch.heartbeatIntervalMs;
  if (beat === null) return null;
  const { most } = clockErrorsOf(timing.clockError);
  const between = sleepOf(watch.checkIntervalMs, timing).mostMs + timing.bootTime.most;
  return lastsMs(beat, most) + between + timing.connectTime.most + timing.joinWaitMs;
}

/** How large a share of a total a part is, in parts per million. */
export function sharePpm(partPc: bigint, totalPc: bigint): number {
  return totalPc === 0n ? 0 : Number(divided(partPc * million, totalPc));
}
