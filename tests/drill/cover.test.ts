// The cheapest cover: what the solver finds against every choice there is.
import { describe, expect, it } from 'vitest';
import { itemAt, randomStream } from '../../src/base/index.js';
import { loadLeastCover } from '../../src/cli/drill/least-cover.js';
import type { Column } from '../../src/drill/index.js';

const leastCover = await loadLeastCover();

/** By trying every choice. */
function leastCostOf(columns: readonly Column[]): number {
  const masks = columns.map(({ rows }) => rows.reduce((mask, row) => mask | (1 << row), 0));
  const all = masks.reduce((mask, one) => mask | one, 0);
  let least = Number.POSITIVE_INFINITY;
  for (let choice = 0; choice < 1 << columns.length; choice += 1) {
    let mask = 0;
    let cost = 0;
    for (const [index, column] of columns.entries()) {
      if ((choice & (1 << index)) === 0) continue;
      mask |= itemAt(masks, index);
      cost += column.cost;
    }
    if (mask === all) least = Math.min(least, cost);
  }
  return least;
}

/** @param density how many of 100 rows a column holds. */
function drawn(seed: string, on: { columns: number; rows: number; density: number }): Column[] {
  const stream = randomStream(seed, 'cover');
  return Array.from({ length: on.columns }, () => {
    const rows = Array.from({ length: on.rows }, (_, row) => row).filter(
      () => stream.whole(1, 100) <= on.density,
    );
    return { cost: stream.whole(1, 30), rows };
  });
}

function isCover(columns: readonly Column[], chosen: readonly number[]): boolean {
  const held = new Set(chosen.flatMap((index) => itemAt(columns, index).rows));
  return columns.every(({ rows }) => rows.every((row) => held.has(row)));
}

describe('the cheapest cover', () => {
  it.each([10, 25, 45])('costs what the cheapest of all choices costs, %i %% full', (density) => {
    for (let draw = 0; draw < 20; draw += 1) {
      const columns = drawn(`${String(density)}-${String(draw)}`, {
        columns: 12,
        rows: 9,
        density,
      });
      const { chosen, cost, atLeast } = leastCover(columns);
      expect(isCover(columns, chosen)).toBe(true);
      expect(cost).toBe(chosen.reduce((sum, index) => sum + itemAt(columns, index).cost, 0));
      expect({ draw, cost, atLeast }).toEqual({ draw, cost: leastCostOf(columns), atLeast: cost });
    }
  });

  it('is proved among hundreds of columns, and is no dearer for a smaller allowance than said', async () => {
    const columns = drawn('large', { columns: 300, rows: 60, density: 6 });
    const proved = leastCover(columns);
    expect(proved.atLeast).toBe(proved.cost);
    for (const allowance of [1, 5, 20]) {
      const hasty = (await loadLeastCover(allowance))(columns);
      expect(isCover(columns, hasty.chosen)).toBe(true);
      expect(hasty.atLeast).toBeLessThanOrEqual(proved.cost);
      expect(hasty.cost).toBeGreaterThanOrEqual(proved.cost);
    }
  });

  it('of nothing is nothing', () => {
    expect(leastCover([])).toEqual({ chosen: [], cost: 0, atLeast: 0 });
    expect(leastCover([{ cost: 4, rows: [] }])).toEqual({ chosen: [], cost: 0, atLeast: 0 });
  });
});
