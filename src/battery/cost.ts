// A spending as numbers to be read: whole nAh and shares, each rounded once from the exact charge.
import { dayMs } from '../base/index.js';
import { type SupplySettings } from '../model/index.js';
import type { Trace } from '../sim/index.js';
import { nahOf } from './amounts.js';
import { lifeMs } from './life.js';
import { type Activity, meanNa, type Spending, spend } from './spending.js';
import type { Use } from './use.js';
import { sharePpm } from './warning.js';

/** Over what the cells of one kind may hold; null is over a hundred years. */
export interface LivesOfCells {
  readonly leastMs: number | null;
  readonly mostMs: number | null;
}

export interface UseCost {
  /** From the first power-on. */
  readonly lengthMs: number;
  /** How much of the timeline was over at the first power-on. */
  readonly beforePowerOnMs: number;
  readonly meanNa: number;
  readonly chargeNah: number;
  /** How long a full charge lasts at this average use; null: over a hundred years by these numbers. */
  readonly lifeMs: number | null;
  /** The same over what the cells may hold, of which `lifeMs` has the capacity at this load; null: the file gives the battery itself. */
  readonly cells: LivesOfCells | null;
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
    beforePowerOnMs: use.beforePowerOnMs,
    meanNa: meanNa(spending),
    chargeNah: nahOf(spending.totalPc),
    lifeMs: lifeMs(spending, supply),
    cells: livesOfCells(use, supply),
    heldMs: use.heldMs,
    parts: partsOf(spending),
  };
}

function livesOfCells(use: Use, supply: SupplySettings): LivesOfCells | null {
  if (supply.cells === undefined) return null;
  const { least, most } = supply.cells.capacityNah;
  const lives = (capacityNah: number): number | null => {
    const held = { ...supply, capacityNah };
    return lifeMs(spend(use, held), held);
  };
  return { leastMs: lives(least), mostMs: lives(most) };
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

/**
 * Whether a use is too short for its average to be that of usual days, since openings and heartbeats come by the day. Of a
 * timeline of a day or more, the device may be on for half a day.
 */
export function isTooShort({ lengthMs, beforePowerOnMs }: UseCost): boolean {
  return lengthMs + beforePowerOnMs < dayMs || lengthMs < dayMs / 2;
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
