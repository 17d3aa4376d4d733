// The cheapest cover as an integer program: a variable for each column, 1 where it is chosen; each row holds at least one.
import loadHighs, { type Highs, type Model } from 'highs';
import { invariant, itemAt } from '../../base/index.js';
import type { Column, Cover, LeastCover } from '../../drill/index.js';
import { mostCoverNodes } from '../../model/index.js';

export async function loadLeastCover(mostNodes = mostCoverNodes): Promise<LeastCover> {
  const highs = await loadHighs();
  return (columns) => coverBy(highs, columns, mostNodes);
}

function coverBy(highs: Highs, columns: readonly Column[], mostNodes: number): Cover {
  const holders = holdersOf(columns);
  if (holders.length === 0) return { chosen: [], cost: 0, atLeast: 0 };
  return highs.withModel({ format: 'lp', data: programOf(columns, holders) }, (model) => {
    // A gap of nothing: the least cost, not nearly the least. No limit of time: the result would be another on a slow machine.
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_max_nodes: mostNodes });
    model.run();
    const chosen = chosenIn(model);
    const isCover = holders.every((held) => held.some((index) => chosen.has(index)));
    invariant(isCover, 'the solver covers every row', { columns: columns.length });
    const cost = [...chosen].reduce((sum, index) => sum + itemAt(columns, index).cost, 0);
    return { chosen: [...chosen], cost, atLeast: Math.min(cost, provedIn(model)) };
  });
}

/** For each row that a column holds, these columns. */
function holdersOf(columns: readonly Column[]): readonly (readonly number[])[] {
  const holders = new Map<number, Set<number>>();
  for (const [index, { rows }] of columns.entries()) {
    for (const row of rows) holders.set(row, (holders.get(row) ?? new Set()).add(index));
  }
  return [...holders.values()].map((held) => [...held]);
}

/** In the LP format of CPLEX. Variables are numbered as they first occur: as the columns. */
function programOf(columns: readonly Column[], holders: readonly (readonly number[])[]): string {
  const name = (index: number): string => `x${String(index)}`;
  const sum = (terms: readonly string[]): string => terms.join('\n + ');
  const costs = columns.map(({ cost }, index) => `${String(cost)} ${name(index)}`);
  const rows = holders.map((held) => `${sum(held.map(name))} >= 1`);
  const names = columns.map((_, index) => name(index));
  const parts = ['Minimize', sum(costs), 'Subject To', ...rows, 'Binary', ...names, 'End'];
  return parts.join('\n');
}

function chosenIn(model: Model): ReadonlySet<number> {
  const values = [...model.getSolution().colValue];
  return new Set(values.flatMap((value, index) => (value > 0.5 ? [index] : [])));
}

/** Costs are whole; the solver's bound may be a little below one for its rounding. */
function provedIn(model: Model): number {
  return Math.ceil(Number(model.info.get('mip_dual_bound')) - 1e-6);
}
