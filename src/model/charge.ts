// What a supply holds and what each activity takes from it, in whole numbers: pC, which is nA × ms exactly. The prices of a run
// that drains its supply and of a use that is priced afterwards are these.
import type { ActivityDraw, SupplySettings } from './supply.js';

/** pC in one nAh: seconds an hour times milliseconds a second. */
export const pcPerNah = 3_600_000n;

const million = 1_000_000n;

/** 30 days, as self-discharge is counted. */
export const selfDischargeMonthMs = 2_592_000_000n;

/** What the device can use of a full charge, in pC, before any self-discharge. */
export function availablePc({ capacityNah, usablePpm, derating }: SupplySettings): bigint {
  const share = BigInt(usablePpm) * BigInt(derating?.sharePpm ?? 1_000_000);
  return (BigInt(capacityNah) * pcPerNah * share) / (million * million);
}

/** The self-discharge of the first day, in pC. */
export function firstDayPc({ capacityNah, selfDischarge }: SupplySettings): bigint {
  return (BigInt(capacityNah) * pcPerNah * BigInt(selfDischarge.firstDayPpm)) / million;
}

/** What the device draws awake while it does nothing until reset: as given, or like a boot where only that is known. */
export function holdNa({ hold, boot }: SupplySettings): number {
  const draw = hold ?? boot;
  return draw?.kind === 'current' ? draw.currentNa : 0;
}

/**
 * What the device draws while it waits awake for the network: as in an attempt that fails, where that is a current for as long
 * as it lasts; else as while it holds.
 */
export function joinWaitNa(supply: SupplySettings): number {
  const { failedAttempt } = supply;
  const isCurrent = failedAttempt?.kind === 'current' && failedAttempt.timeMs === null;
  return isCurrent ? failedAttempt.currentNa : holdNa(supply);
}

/** What an act takes at its beginning, in pC, and what it draws while it lasts, in nA. */
export interface ActPrice {
  readonly eachPc: bigint;
  readonly whileNa: bigint;
}

/** An act with a charge or a time of its own takes that at its beginning, however long the simulated one lasts. */
export function actPrice(draw: ActivityDraw | null): ActPrice {
  if (draw === null) return { eachPc: 0n, whileNa: 0n };
  if (draw.kind === 'charge') return { eachPc: BigInt(draw.chargePc), whileNa: 0n };
  const { currentNa, timeMs } = draw;
  return timeMs === null
    ? { eachPc: 0n, whileNa: BigInt(currentNa) }
    : { eachPc: BigInt(currentNa) * BigInt(timeMs), whileNa: 0n };
}

/** How often people charge the device; null: in no such way. */
export interface ChargingHabit {
  /** Counted from power-on. */
  readonly everyMs: number | null;
  /** How long after the first low-battery message since the last charge was delivered. Absent: nobody charges for one. */
  readonly afterWarningMs?: number;
}

/** A supply that a run drains. */
export interface ChargePlan {
  readonly supply: SupplySettings;
  readonly charging: ChargingHabit;
  /** Whether somebody sees the low-battery message that was delivered then. Absent: always. */
  readonly isWarningSeen?: (deliveredMs: number) => boolean;
}
