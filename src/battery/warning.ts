// When to warn of a low battery, and how long its owner may not know that the watch is dead.
import { lastsMs } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  availablePc,
  clockErrorsOf,
  pcPerNah,
  type SupplySettings,
  sleepOf,
  type TimingRanges,
  type VoltagePoint,
} from '../model/index.js';
import { divided, million } from './amounts.js';
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
  const { voltageCurve } = supply;
  return {
    usableLeftNah: Number((needed + pcPerNah - 1n) / pcPerNah),
    usableLeftPpm: Number((needed * million + available - 1n) / available),
    leftPpm,
    voltageMv: voltageCurve === null ? null : voltageAt(voltageCurve, leftPpm),
  };
}

/** Linear between the points, rounded up to whole mV; beyond the ends the end values hold. */
function voltageAt(curve: readonly VoltagePoint[], leftPpm: number): number {
  let below = curve[0];
  for (const point of curve) {
    if (point.leftPpm >= leftPpm) {
      if (below === undefined || below === point) return point.voltageMv;
      const rise = BigInt(point.voltageMv - below.voltageMv) * BigInt(leftPpm - below.leftPpm);
      const run = BigInt(point.leftPpm - below.leftPpm);
      return below.voltageMv + Number((rise + run - 1n) / run);
    }
    below = point;
  }
  return below?.voltageMv ?? 0;
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
