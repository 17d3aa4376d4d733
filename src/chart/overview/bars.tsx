// The door's openings in an overview, and behind them the outages.
import type { VNode } from 'preact';
import type { OpeningOutcome } from '../../verdict/index.js';
import { Shape } from '../drawing.js';
import { spansIn } from '../facts/window.js';
import { lookOf } from '../kinds.js';
import type { Scene } from '../scene.js';
import { openingTitle } from '../words.js';
import { type Dense, denseLevels } from './dense.js';
import { acrossPx, barOf, type Geometry } from './geometry.js';
import { partsOf, type RowPart } from './rows.js';

/** So many openings get an element and a title each; more become one shape an outcome. */
const mostTitled = 400;

/** How high a bar stands, and how narrow it may get: the worse, the more of it. */
const looks: Readonly<Record<OpeningOutcome, { readonly share: number; readonly least: number }>> =
  {
    brief: { share: 0.62, least: 0.8 },
    reported: { share: 1, least: 1.4 },
    late: { share: 1, least: 1.8 },
    undecided: { share: 1, least: 1.8 },
    unknown: { share: 1, least: 1.8 },
    missed: { share: 1, least: 2.2 },
    unpowered: { share: 1, least: 2.2 },
  };

/** Later ones are drawn over earlier ones. */
const order: readonly OpeningOutcome[] = [
  'brief',
  'reported',
  'unknown',
  'late',
  'undecided',
  'missed',
];

function boxOf(geometry: Geometry, part: RowPart, outcome: OpeningOutcome): string {
  const { share, least } = looks[outcome];
  const { x, width } = acrossPx(geometry, part, least);
  const { y, height } = barOf(geometry, part, share);
  return `M${x} ${y}h${width}v${height}h${-width}Z`;
}

export function Bars({
  scene,
  geometry,
  dense,
}: {
  readonly scene: Scene;
  readonly geometry: Geometry;
  readonly dense: Dense;
}): VNode {
  const { openings } = scene.verdict;
  const { world } = scene.timeline;
  const titled = openings.count <= mostTitled;
  const shapes = new Map<OpeningOutcome, { readonly d: string[]; readonly titles: string[] }>();
  for (const outcome of order) shapes.set(outcome, { d: [], titles: [] });
  for (const { index, ...span } of spansIn(world.openings, { fromMs: 0, toMs: scene.lengthMs })) {
    const outcome = lookOf(openings.at(index).outcome);
    if (outcome === 'brief' && dense.holds(index)) continue;
    const shape = shapes.get(outcome);
    const d = partsOf(geometry.rows, span).map((part) => boxOf(geometry, part, outcome));
    shape?.d.push(d.join(''));
    if (titled) shape?.titles.push(openingTitle(scene, index));
  }
  return (
    <g>
      <DenseCells dense={dense} geometry={geometry} />
      {[...shapes].map(([outcome, { d, titles }]) =>
        titled ? (
          d.map((one, index) => <Shape class={`dw-${outcome}`} d={one} title={titles[index]} />)
        ) : d.length === 0 ? null : (
          <Shape class={`dw-${outcome}`} d={unrepeated(d)} />
        ),
      )}
    </g>
  );
}

function DenseCells(props: { readonly dense: Dense; readonly geometry: Geometry }): VNode {
  const { dense, geometry } = props;
  const { share } = looks.brief;
  return (
    <g>
      {denseLevels.map((level) => (
        <Shape
          class={`dw-brief dw-dense-${level}`}
          d={dense.cells
            .filter((cell) => cell.level === level)
            .map((cell) => {
              const { x, width } = acrossPx(geometry, cell, 1);
              const { y, height } = barOf(geometry, { ...cell, half: 'whole' }, share);
              return `M${x} ${y}h${width}v${height}h${-width}Z`;
            })
            .join('')}
        />
      ))}
    </g>
  );
}

/** Openings closer than a tenth of a pixel draw the same box: once is enough. */
function unrepeated(d: readonly string[]): string {
  return [...new Set(d)].join('');
}
