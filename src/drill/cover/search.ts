// The cheapest cover by branch and bound: the open row with the fewest columns is covered by each of them in turn. What
// cannot cost less than the best cover known is not looked into. Depth first, and no more than so much work.
import { invariant, itemAt } from '../../base/index.js';
import { type Bound, boundOf, firstPrices, type Open } from './bound.js';
import { costOf, type Problem, withoutIdle } from './problem.js';

export interface Found {
  readonly chosen: readonly number[];
  readonly cost: number;
  /** Proved: no cover costs less. */
  readonly atLeast: number;
  /** Nodes looked into. */
  readonly nodes: number;
}

const roundsAtRoot = 400;
const roundsAtNode = 30;
/** Nodes from one greedy cover to the next. */
const completedEvery = 8;
/** The bound is a whole number but for what sums of fractions lose. */
const grain = 1e-6;

interface Search {
  readonly problem: Problem;
  readonly mostNodes: number;
  best: readonly number[];
  bestCost: number;
  nodes: number;
  /** What the cheapest of the nodes left out for want of work may cost. */
  leftOut: number;
}

/** @param mostNodes when so many have been looked into, the best cover known is the answer. */
export function* search(problem: Problem, mostNodes: number): Generator<number, Found> {
  const rows = Uint8Array.from(problem.holders, (those) => (those.length > 0 ? 1 : 0));
  const open: Open = { rows, columns: [...problem.columns.keys()] };
  const greedy = completed(problem, open, { chosen: [], worth: null });
  const state: Search = {
    problem,
    mostNodes,
    best: greedy,
    bestCost: costOf(problem, greedy),
    nodes: 0,
    leftOut: Number.POSITIVE_INFINITY,
  };
  const prices = firstPrices(problem);
  const root = boundOf(problem, open, { from: prices, aim: state.bestCost, rounds: roundsAtRoot });
  yield* below(state, { open, chosen: [], spent: 0, prices: root.prices });
  const { best, bestCost, nodes, leftOut } = state;
  return { chosen: best, cost: bestCost, atLeast: Math.min(bestCost, leftOut), nodes };
}

interface Node {
  readonly open: Open;
  readonly chosen: readonly number[];
  readonly spent: number;
  readonly prices: Float64Array;
}

function* below(search: Search, node: Node): Generator<number, void> {
  const { problem } = search;
  const { open, spent } = node;
  search.nodes += 1;
  if (search.nodes % 16 === 0) yield search.nodes;
  const aim = search.bestCost - spent;
  const bound = boundOf(problem, open, { from: node.prices, aim, rounds: roundsAtNode });
  const atLeast = spent + Math.ceil(bound.atLeast - grain);
  if (atLeast >= search.bestCost) return;
  if (search.nodes > search.mostNodes) {
    search.leftOut = Math.min(search.leftOut, atLeast);
    return;
  }
  if (search.nodes % completedEvery === 1) complete(search, node, bound);
  const affordable = columnsWorthIt(open, bound, search.bestCost - spent);
  const row = tightestRow(problem, open, affordable);
  if (row === null) {
    if (!open.rows.includes(1)) complete(search, node, bound);
    return;
  }
  const ways = itemAt(problem.holders, row)
    .filter((index) => affordable.has(index))
    .sort((a, b) => (affordable.get(a) ?? 0) - (affordable.get(b) ?? 0) || a - b);
  const refused = new Set<number>();
  for (const index of ways) {
    yield* below(search, chosenIn(problem, node, { index, affordable, refused, bound }));
    // Covers with it have all been looked at.
    refused.add(index);
  }
}

function complete(search: Search, { open, chosen }: Node, worth: Bound): void {
  const tried = completed(search.problem, open, { chosen, worth });
  const cost = costOf(search.problem, tried);
  if (cost >= search.bestCost) return;
  search.best = tried;
  search.bestCost = cost;
}

/** Columns with which a cover may still be cheaper than the best known, and their reduced costs. */
function columnsWorthIt(open: Open, bound: Bound, aim: number): ReadonlyMap<number, number> {
  const worth = new Map<number, number>();
  for (const [at, index] of open.columns.entries()) {
    const rest = bound.reducedCosts[at] ?? 0;
    if (Math.ceil(bound.atLeast + Math.max(0, rest) - grain) < aim) worth.set(index, rest);
  }
  return worth;
}

/** The open row that the fewest columns hold; null: none is open, or one can be held by none. */
function tightestRow(
  { holders }: Problem,
  open: Open,
  among: ReadonlyMap<number, number>,
): number | null {
  let tightest: number | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  for (const [row, those] of holders.entries()) {
    if (open.rows[row] !== 1) continue;
    const count = those.reduce((sum, index) => sum + (among.has(index) ? 1 : 0), 0);
    if (count === 0) return null;
    if (count >= fewest) continue;
    fewest = count;
    tightest = row;
  }
  return tightest;
}

function chosenIn(
  { columns }: Problem,
  { open, chosen, spent }: Node,
  on: {
    readonly index: number;
    readonly affordable: ReadonlyMap<number, number>;
    readonly refused: ReadonlySet<number>;
    readonly bound: Bound;
  },
): Node {
  const { index, affordable, refused, bound } = on;
  const column = itemAt(columns, index);
  const rows = open.rows.slice();
  for (const row of column.rows) rows[row] = 0;
  const left = open.columns.filter(
    (other) => other !== index && affordable.has(other) && !refused.has(other),
  );
  return {
    open: { rows, columns: left },
    chosen: [...chosen, index],
    spent: spent + column.cost,
    prices: bound.prices,
  };
}

/** A cover greedily made from what is chosen: by what a column holds for its cost, reduced where prices are known. */
function completed(
  { columns, holders }: Problem,
  open: Open,
  on: { readonly chosen: readonly number[]; readonly worth: Bound | null },
): readonly number[] {
  const rows = open.rows.slice();
  const chosen = [...on.chosen];
  let wanted = rows.reduce((sum, row) => sum + row, 0);
  const all = holders.length;
  const costs = new Map<number, number>();
  for (const [at, index] of open.columns.entries()) {
    const { cost } = itemAt(columns, index);
    const rest = on.worth?.reducedCosts[at];
    costs.set(index, rest === undefined ? cost : Math.max(rest, cost / all / 100));
  }
  // Columns that were ruled out on the way can still complete a cover.
  if (on.worth !== null) {
    for (const [index, { cost }] of columns.entries())
      if (!costs.has(index)) costs.set(index, cost);
  }
  while (wanted > 0) {
    let best: number | null = null;
    let bestRate = Number.POSITIVE_INFINITY;
    for (const [index, cost] of costs) {
      let gain = 0;
      for (const row of itemAt(columns, index).rows) gain += rows[row] ?? 0;
      if (gain === 0 || cost / gain >= bestRate) continue;
      bestRate = cost / gain;
      best = index;
    }
    invariant(best !== null, 'every open row is in some column', { wanted });
    chosen.push(best);
    for (const row of itemAt(columns, best).rows) {
      wanted -= rows[row] ?? 0;
      rows[row] = 0;
    }
  }
  return withoutIdle({ columns, holders }, chosen);
}
