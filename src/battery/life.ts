// How long a charge lasts. Of the capacity, cold and the regulator leave a part; the first day of self-discharge
// comes off once; the rest goes at the mean current. Whole numbers of any size, rounded down to the millisecond.
import { availablePc, firstDayPc, longestDurationMs, type SupplySettings } from '../model/index.js';
import type { Spending } from './spending.js';

const dayMs = 86_400_000n;

/**
 * How long a full charge lasts at the mean current of a spending.
 * @returns milliseconds; null: for longer than a hundred years, by these numbers.
 */
export function lifeMs(spending: Spending, supply: SupplySettings): number | null {
  const lengthMs = BigInt(spending.lengthMs);
  const available = availablePc(supply);
  const firstDay = firstDayPc(supply);
  const firstDayRate = spending.totalPc * dayMs + firstDay * lengthMs;
  if (firstDayRate === 0n || lengthMs === 0n) return null;
  const withinFirstDay = (available * lengthMs * dayMs) / firstDayRate;
  if (withinFirstDay <= dayMs) return Number(withinFirstDay);
  if (spending.totalPc === 0n) return null;
  const life = ((available - firstDay) * lengthMs) / spending.totalPc;
  return life > BigInt(longestDurationMs) ? null : Number(life);
}

/** How long a full charge lasts at one steady current, self-discharge left aside; null as above. */
export function lastsAtMs(currentNa: number, supply: SupplySettings): number | null {
  if (currentNa === 0) return null;
  const life = availablePc(supply) / BigInt(currentNa);
  return life > BigInt(longestDurationMs) ? null : Number(life);
}
