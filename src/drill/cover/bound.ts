// What a cover must cost at least. Each row is given a price; whatever the prices, a cover costs no less than all prices
// together and, for each column whose rows are worth more than it costs, the difference (Lagrange). Good prices are
// found step by step: up where a row is in no column that is worth it, down where it is in many (Held and Karp's
// subgradient method; from memory).
import { itemAt } from '../../base/index.js';
import type { Problem } from './problem.js';

/** A problem of which some has been decided. */
export interface Open {
  /** 1: still to be covered. */
  readonly rows: Uint8Array;
  /** 1: may be chosen. */
  readonly columns: readonly number[];
}

export interface Bound {
  /** Of what is open. */
  readonly atLeast: number;
  readonly prices: Float64Array;
  /** Cost less worth, one an open column, in their order. */
  readonly reducedCosts: Float64Array;
}

/** Prices that share each column's cost among its rows: a start. */
export function firstPrices({ columns, holders }: Problem): Float64Array {
  return Float64Array.from(holders, (those) =>
    those.reduce((least, index) => {
      const { cost, rows } = itemAt(columns, index);
      return Math.min(least, cost / rows.length);
    }, Number.POSITIVE_INFINITY),
  );
}

/**
 * @param on.aim what a cover of the open rows is known to cost, or must beat: steps are measured by it.
 */
export function boundOf(
  problem: Problem,
  open: Open,
  on: { readonly from: Float64Array; readonly aim: number; readonly rounds: number },
): Bound {
  let prices = on.from;
  let best: Bound = priced(problem, open, prices);
  let pace = 1;
  let idle = 0;
  for (let round = 0; round < on.rounds && best.atLeast < on.aim; round += 1) {
    const now: Bound = round === 0 ? best : priced(problem, open, prices);
    if (now.atLeast > best.atLeast) {
      best = now;
      idle = 0;
    } else if (round > 0) idle += 1;
    if (idle >= 10) {
      pace /= 2;
      idle = 0;
      if (pace < 0.005) break;
    }
    const slope = slopeOf(problem, open, now);
    let steep = 0;
    for (const value of slope) steep += value * value;
    if (steep === 0) break;
    const step = (pace * Math.max(on.aim - now.atLeast, 1)) / steep;
    prices = now.prices.map((price, row) => Math.max(0, price + step * (slope[row] ?? 0)));
  }
  return best;
}

function priced({ columns }: Problem, open: Open, prices: Float64Array): Bound {
  let atLeast = 0;
  for (let row = 0; row < prices.length; row += 1) {
    if (open.rows[row] === 1) atLeast += prices[row] ?? 0;
  }
  const reducedCosts = new Float64Array(open.columns.length);
  for (let at = 0; at < open.columns.length; at += 1) {
    const { cost, rows } = itemAt(columns, itemAt(open.columns, at));
    let rest = cost;
    for (const row of rows) if (open.rows[row] === 1) rest -= prices[row] ?? 0;
    reducedCosts[at] = rest;
    if (rest < 0) atLeast += rest;
  }
  return { atLeast, prices, reducedCosts };
}

/** For each open row, 1 less the number of columns worth choosing that hold it. */
function slopeOf({ columns }: Problem, open: Open, { reducedCosts }: Bound): Float64Array {
  const slope = Float64Array.from(open.rows);
  for (let at = 0; at < open.columns.length; at += 1) {
    if ((reducedCosts[at] ?? 0) >= 0) continue;
    for (const row of itemAt(columns, itemAt(open.columns, at)).rows) {
      if (open.rows[row] === 1) slope[row] = (slope[row] ?? 0) - 1;
    }
  }
  return slope;
}
