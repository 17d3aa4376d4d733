// Actions of a person played on a device: the world that they make, and the messages that follow.

import { trueMs } from '../base/index.js';
import { type Experiment, type Program, simulate, type Trace } from '../sim/index.js';
import { idealContactEdges, type Spans, spansOf, type World, withBounce } from '../world/index.js';
import { type Corner, leanOf } from './corners.js';
import type { Action, Deed, DrillQuestion } from './plan.js';

interface Played {
  readonly actions: readonly Action[];
  readonly endsMs: number;
  readonly corner: Corner;
  readonly question: Pick<DrillQuestion, 'contact' | 'reset'>;
}

/** A run of a program through actions, in one corner, up to an end. */
export function play(program: Program, on: Played): Trace {
  return simulate({ program, timing: on.corner.timing, world: worldOf(on), seed: 'drill' });
}

/** Instants of the alerts that such a run delivers, in order. */
export function messagesOf(program: Program, on: Played): readonly number[] {
  return messagesIn(program, sceneOf(on));
}

/** All of a run but its program: made once where many programs are tried. */
export type Scene = Pick<Experiment, 'timing' | 'world'>;

export function sceneOf(on: Played): Scene {
  return { timing: on.corner.timing, world: worldOf(on) };
}

export function messagesIn(program: Program, scene: Scene): readonly number[] {
  return simulate({ program, ...scene, seed: 'drill' }, { record: 'none' })
    .alerts.flatMap(({ deliveredMs }) => (deliveredMs === null ? [] : [deliveredMs]))
    .sort((a, b) => a - b);
}

function worldOf(on: {
  readonly actions: readonly Action[];
  readonly endsMs: number;
  readonly corner: Corner;
  readonly question: Pick<DrillQuestion, 'contact' | 'reset'>;
}): World {
  const { contact, reset } = on.question;
  const actions = on.actions.map(({ atMs, deed }, index) => ({
    deed,
    atMs: atMs + leanOf(on.corner, index),
  }));
  const resets = actions.filter(({ deed }) => deed === 'reset');
  const openings = between(actions, 'open', 'shut');
  const edges = idealContactEdges(openings);
  return {
    lengthMs: trueMs(on.endsMs),
    openings,
    contact: contact === null ? edges : withBounce(edges, contact.bounceMs),
    networkDown: between(actions, 'network-off', 'network-on'),
    powerLost: between(actions, 'power-off', 'power-on'),
    resetsMs: Float64Array.from(resets, ({ atMs }) => atMs),
    resetEffects: resets.map(() => ({ kind: 'button', clears: reset.button === 'clears' })),
    powerOnAtMs: trueMs(0),
  };
}

/** From each `begins` to the next `ends`; without one, for ever. */
function between(actions: readonly Action[], begins: Deed, ends: Deed): Spans {
  const spans: [number, number][] = [];
  let fromMs: number | null = null;
  for (const { atMs, deed } of actions) {
    if (deed === begins) fromMs ??= atMs;
    if (deed !== ends || fromMs === null) continue;
    spans.push([fromMs, atMs]);
    fromMs = null;
  }
  if (fromMs !== null) spans.push([fromMs, Number.POSITIVE_INFINITY]);
  return spansOf(spans);
}
