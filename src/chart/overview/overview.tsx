// The overview: all of the timeline at a glance.
import type { CloseUp } from '../close-ups.js';
import { At, type Block } from '../drawing.js';
import { firstEndingAfter } from '../facts/window.js';
import type { Kind } from '../kinds.js';
import { notableOpenings, type Scene } from '../scene.js';
import { Bars } from './bars.js';
import { Frame } from './frame.js';
import { type Geometry, geometryOf } from './geometry.js';
import { labelsOf } from './labels.js';
import { type Mark, marksOf } from './mark-list.js';
import { Labels, Marks } from './marks.js';
import { OutageBands } from './outages.js';
import { holesOf, type Row, rowsOf } from './rows.js';
import { WorstDimension } from './worst.js';

const headPx = 22;

/** A block, and what there is to see in it. */
export function overview(
  scene: Scene,
  widthPx: number,
  closeUps: readonly CloseUp[],
): Block & { readonly kinds: ReadonlySet<Kind> } {
  const geometry = geometryOf(rowsOf(scene.calendar), widthPx);
  const marks = marksOf(scene, geometry, closeUps);
  const { worst } = scene;
  return {
    height: headPx + geometry.rows.rows.length * geometry.rowPx,
    kinds: kindsIn(scene, geometry, marks),
    node: (
      <At x={geometry.plotX} y={headPx}>
        <Frame geometry={geometry} openingsInRow={(row) => openingsIn(scene, row)} />
        <OutageBands scene={scene} geometry={geometry} />
        <Bars scene={scene} geometry={geometry} />
        {worst === null ? null : <WorstDimension worst={worst} geometry={geometry} />}
        <Marks marks={marks} />
        <Labels labels={labelsOf(scene, geometry, marks)} />
      </At>
    ),
  };
}

function kindsIn(scene: Scene, { rows }: Geometry, marks: readonly Mark[]): Set<Kind> {
  const { world } = scene.timeline;
  const { openings } = scene.verdict;
  const kinds = new Set<Kind>();
  for (const { what } of marks) {
    kinds.add(what.of === 'alert' ? what.kind : what.outcome);
    if (what.of === 'alert' && !what.delivered) kinds.add('unsent');
  }
  if (openings.count > notableOpenings(scene).length) kinds.add('brief');
  if (scene.verdict.summary.reported > 0) kinds.add('reported');
  if (scene.worst !== null) kinds.add('worst');
  if (world.networkDown.fromMs.length > 0) kinds.add('network');
  if (world.powerLost.fromMs.length > 0 || world.powerOnAtMs > 0) kinds.add('power');
  if (rows.rows.some((row) => holesOf(rows, row).length > 0)) kinds.add('void');
  return kinds;
}

/** Openings that begin in a row, and the one that is open at its start. */
function openingsIn({ timeline }: Scene, row: Row): number {
  const { openings } = timeline.world;
  let last = firstEndingAfter(openings, row.fromMs);
  const first = last;
  while ((openings.fromMs[last] ?? row.toMs) < row.toMs) last += 1;
  return last - first;
}
