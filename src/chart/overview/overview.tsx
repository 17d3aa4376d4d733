// The overview: all of the timeline at a glance.
import type { CloseUp } from '../close-ups.js';
import { At, type Block } from '../drawing.js';
import { firstEndingAfter } from '../facts/window.js';
import type { Kind } from '../kinds.js';
import { notableOpenings, type Scene } from '../scene.js';
import { Bars } from './bars.js';
import { type Dense, denseOf } from './dense.js';
import { Frame } from './frame.js';
import { type Geometry, geometryOf } from './geometry.js';
import { labelsOf } from './labels.js';
import { type Mark, marksOf } from './mark-list.js';
import { Labels, Marks } from './marks.js';
import { OutageBands } from './outages.js';
import { holesOf, type Row, rowsOf } from './rows.js';
import { WorstDimension } from './worst.js';

export const overviewHeadPx = 22;

export interface OverviewOptions {
  /** What is shown close up, and has its number here. */
  readonly closeUps?: readonly CloseUp[];
  /** For rows that can be pressed. */
  readonly leastRowPx?: number;
}

/** A block, and what there is to see in it. */
export interface Overview extends Block {
  readonly kinds: ReadonlySet<Kind>;
  readonly geometry: Geometry;
}

/** All of the timeline, a row a day or a week. */
export function overview(
  scene: Scene,
  widthPx: number,
  { closeUps = [], leastRowPx = 0 }: OverviewOptions = {},
): Overview {
  const geometry = geometryOf(rowsOf(scene.calendar), widthPx, leastRowPx);
  const dense = denseOf(scene, geometry);
  const marks = marksOf(scene, geometry, closeUps);
  const { worst } = scene;
  return {
    geometry,
    height: overviewHeadPx + geometry.rows.rows.length * geometry.rowPx,
    kinds: kindsIn(scene, { geometry, dense, marks }),
    node: (
      <At x={geometry.plotX} y={overviewHeadPx}>
        <Frame geometry={geometry} openingsInRow={(row) => openingsIn(scene, row)} />
        <OutageBands scene={scene} geometry={geometry} />
        <Bars scene={scene} geometry={geometry} dense={dense} />
        {worst === null ? null : <WorstDimension worst={worst} geometry={geometry} />}
        <Marks marks={marks} />
        <Labels labels={labelsOf(scene, geometry, marks)} />
      </At>
    ),
  };
}

function kindsIn(
  scene: Scene,
  {
    geometry: { rows },
    dense,
    marks,
  }: { readonly geometry: Geometry; readonly dense: Dense; readonly marks: readonly Mark[] },
): Set<Kind> {
  const { world } = scene.timeline;
  const { openings } = scene.verdict;
  const kinds = new Set<Kind>();
  for (const { what } of marks) {
    if (what.of === 'lowBattery') kinds.add('lowBattery');
    else kinds.add(what.of === 'alert' ? what.kind : what.outcome);
    if (what.of === 'alert' && !what.delivered) kinds.add('unsent');
  }
  if (openings.count > notableOpenings(scene).length) kinds.add('brief');
  if (dense.cells.length > 0) kinds.add('dense');
  if (scene.verdict.summary.reported > 0) kinds.add('reported');
  if (scene.worst !== null) kinds.add('worst');
  if (world.networkDown.fromMs.length > 0) kinds.add('network');
  if (world.powerLost.fromMs.length > 0 || world.powerOnAtMs > 0) kinds.add('power');
  if (rows.rows.some((row) => holesOf(rows, row).length > 0)) kinds.add('void');
  return kinds;
}

/** Openings that begin in a row, and the one that is open at its start. */
export function openingsIn({ timeline }: Scene, row: Row): number {
  const { openings } = timeline.world;
  let last = firstEndingAfter(openings, row.fromMs);
  const first = last;
  while ((openings.fromMs[last] ?? row.toMs) < row.toMs) last += 1;
  return last - first;
}
