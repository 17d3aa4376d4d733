// Network outages and power losses in an overview: bands behind the bars, with a solid edge under them.
import type { VNode } from 'preact';
import { Shape } from '../drawing.js';
import { poweredWorld, powerlessIn } from '../facts/alerts.js';
import { spansIn, type Window } from '../facts/window.js';
import { counted, px } from '../numbers.js';
import type { Scene } from '../scene.js';
import { acrossPx, type Geometry } from './geometry.js';
import { partsOf } from './rows.js';

export type OutageKind = 'network' | 'power';

export const outageNames: Readonly<Record<OutageKind, string>> = {
  network: 'network down',
  power: 'no power',
};

/** The stretches of the timeline with an outage of that kind. */
export function outageSpans({ timeline, trace, lengthMs }: Scene, kind: OutageKind): Window[] {
  const whole = { fromMs: 0, toMs: lengthMs };
  const world = poweredWorld(timeline.world, trace);
  return kind === 'network' ? spansIn(world.networkDown, whole) : powerlessIn(world, whole);
}

export function OutageBands({
  scene,
  geometry,
}: {
  readonly scene: Scene;
  readonly geometry: Geometry;
}): VNode {
  return (
    <g>
      <Band
        kind="network"
        spans={outageSpans(scene, 'network')}
        scene={scene}
        geometry={geometry}
      />
      <Band kind="power" spans={outageSpans(scene, 'power')} scene={scene} geometry={geometry} />
    </g>
  );
}

function Band({
  kind,
  spans,
  scene,
  geometry,
}: {
  readonly scene: Scene;
  readonly kind: OutageKind;
  readonly spans: readonly Window[];
  readonly geometry: Geometry;
}): VNode | null {
  const boxes = spans
    .flatMap((span) => partsOf(geometry.rows, span))
    .map((part) => ({
      ...acrossPx(geometry, part, 1.2),
      top: px(part.row * geometry.rowPx + geometry.barY),
    }));
  if (boxes.length === 0) return null;
  const barPx = px(geometry.barPx);
  const edge = px(Math.max(1.5, barPx * 0.15));
  const bands = boxes.map(({ x, width, top }) => `M${x} ${top}h${width}v${barPx}h${-width}Z`);
  const edges = boxes.map(
    ({ x, width, top }) => `M${x} ${px(top + barPx)}h${width}v${edge}h${-width}Z`,
  );
  const isBefore = ({ toMs }: Window): boolean => toMs <= scene.timeline.world.powerOnAtMs;
  const before = kind === 'power' && spans.some(isBefore) ? 1 : 0;
  const times = spans.length - before;
  const titles = [
    ...(before === 0 ? [] : ['before power-on']),
    ...(times === 0 ? [] : [`${outageNames[kind]}: ${counted(times, 'time')}`]),
  ];
  const title = titles.join(', and ');
  return (
    <g>
      <Shape class={`dw-${kind}`} d={[...new Set(bands)].join('')} title={title} />
      <Shape class={`dw-${kind}-cap`} d={[...new Set(edges)].join('')} />
    </g>
  );
}
