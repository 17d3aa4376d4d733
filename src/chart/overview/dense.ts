// Hours with more brief openings than there is room for: a tint in a few steps takes the place of bars that would run into
// one solid block.
import type { Scene } from '../scene.js';
import type { Geometry } from './geometry.js';
import { pointOf } from './rows.js';

/** Cells may be as wide as these, in hours. */
const cellHours = [1, 2, 3, 4, 6, 12, 24];
const leastCellPx = 11;
/** Closer than this on average, bars cannot be distinguished. */
const leastApartPx = 3;

/** 1 is the lightest. Each step is twice as many. */
export const denseLevels = [1, 2, 3, 4] as const;
export type DenseLevel = (typeof denseLevels)[number];

export interface DenseCell {
  readonly row: number;
  /** As shares of the row's width. */
  readonly from: number;
  readonly to: number;
  readonly level: DenseLevel;
}

export interface Dense {
  readonly cells: readonly DenseCell[];
  /** Whether a brief opening is in a cell and needs no bar of its own. */
  readonly holds: (index: number) => boolean;
}

const none: Dense = { cells: [], holds: () => false };

export function denseOf(scene: Scene, { rows, plotPx }: Geometry): Dense {
  const { openings } = scene.verdict;
  const hours = rows.acrossMs / 3_600_000;
  const wide = cellHours.find((one) => (one / hours) * plotPx >= leastCellPx) ?? 24;
  const cellsInRow = hours / wide;
  const most = plotPx / cellsInRow / leastApartPx;
  if (openings.count <= most) return none;
  const counts = new Map<number, number>();
  const cellOf = new Map<number, number>();
  for (let index = 0; index < openings.count; index += 1) {
    const { outcome, fromMs } = openings.at(index);
    if (outcome !== 'brief') continue;
    const point = pointOf(rows, fromMs);
    if (point === null) continue;
    const cell = point.row * cellsInRow + Math.floor(point.from * cellsInRow);
    cellOf.set(index, cell);
    counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  const cells = [...counts].flatMap(([cell, count]): DenseCell[] => {
    if (count <= most) return [];
    const row = Math.floor(cell / cellsInRow);
    const nth = cell - row * cellsInRow;
    return [
      { row, from: nth / cellsInRow, to: (nth + 1) / cellsInRow, level: levelOf(count / most) },
    ];
  });
  const isDense = new Set(
    cells.map(({ row, from }) => row * cellsInRow + Math.round(from * cellsInRow)),
  );
  return {
    cells,
    holds: (index) => isDense.has(cellOf.get(index) ?? -1),
  };
}

function levelOf(timesTheLimit: number): DenseLevel {
  if (timesTheLimit < 2) return 1;
  if (timesTheLimit < 4) return 2;
  return timesTheLimit < 8 ? 3 : 4;
}
