// A spending as numbers to be read: whole nAh and shares, each rounded once from the exact charge.
import { type SupplySettings } from '../model/index.js';
import type { Trace } from '../sim/index.js';
import { nahOf } from './amounts.js';
import { lifeMs } from './life.js';
import { type Activity, meanNa, type Spending, spend } from './spending.js';
import type { Use } from './use.js';
import { sharePpm } from './warning.js';

export interface UseCost {
  readonly lengthMs: number;
  readonly meanNa: number;
  readonly chargeNah: number;
  /** How long a full charge lasts at this average use; null: over a hundred years by these numbers. */
  readonly lifeMs: number | null;
  /** How long the device was awake after an alert, doing nothing until reset. */
  readonly heldMs: number;
  readonly parts: readonly CostPart[];
}

export interface CostPart {
  readonly activity: Activity;
  /** Null: a state, not an act. */
  readonly count: number | null;
  readonly timeMs: number;
  readonly chargeNah: number;
  readonly sharePpm: number;
}

export function costOf(use: Use, supply: SupplySettings): UseCost {
  const spending = spend(use, supply);
  return {
    lengthMs: use.lengthMs,
    meanNa: meanNa(spending),
    chargeNah: nahOf(spending.totalPc),
    lifeMs: lifeMs(spending, supply),
    heldMs: use.heldMs,
    parts: partsOf(spending),
  };
}

/** A run that drained its supply: what it used while there was charge. */
export interface PoweredCost {
  readonly cost: UseCost;
  /** How long it had none. */
  readonly flatMs: number;
}

/** The cost of a run without the time for which its charge was used up. */
export function poweredCost(use: Use, flat: Trace['flat'], supply: SupplySettings): PoweredCost {
  const flatMs = flat.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const powered = { ...use, lengthMs: use.lengthMs - flatMs, offMs: use.offMs - flatMs };
  return { cost: costOf(powered, supply), flatMs };
}

/** Whether a full charge would be gone before this use is over. */
export function isFlatBeforeEnd({ lifeMs: life, lengthMs }: UseCost): boolean {
  return life !== null && life < lengthMs;
}

function partsOf({ parts, totalPc }: Spending): CostPart[] {
  return parts.map(({ activity, count, timeMs, chargePc }) => ({
    activity,
    count,
    timeMs,
    chargeNah: nahOf(chargePc),
    sharePpm: sharePpm(chargePc, totalPc),
  }));
}
