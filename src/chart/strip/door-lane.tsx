// The truth: when the door was open, and by how much where that is known.
import type { VNode } from 'preact';
import { firstAfter } from '../../world/index.js';
import { Bar, Shape, stretchPx, type TimeScale, Words } from '../drawing.js';
import type { SeenOpening, StripFacts } from '../facts/strip-facts.js';
import type { Window } from '../facts/window.js';
import { px } from '../numbers.js';
import type { Scene } from '../scene.js';
import { textWidth } from '../text.js';
import { openingTitle } from '../words.js';
import type { Lane } from './lanes.js';

interface LaneProps {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lane: Lane;
}

/** So many openings get an element with a title each; more become one shape a kind. */
const mostTitled = 250;
/** A gap as wide as this, or wider, fills the lane. */
const fullGapUm = 60_000;

/** A stretch of an opening with one gap. */
interface GapStretch extends Window {
  /** Null: not given, or wide open. */
  readonly gapUm: number | null;
}

/** An opening cut at the moves of its door. */
function gapStretches({ timeline }: Pick<Scene, 'timeline'>, opening: Window): GapStretch[] {
  const { moves } = timeline;
  if (moves === null || moves.length === 0) return [{ ...opening, gapUm: null }];
  const instants = Float64Array.from(moves, ({ atMs }) => atMs);
  const stretches: GapStretch[] = [];
  let index = Math.max(0, firstAfter(instants, opening.fromMs) - 1);
  for (; index < moves.length; index += 1) {
    const move = moves[index];
    if (move === undefined || move.atMs >= opening.toMs) break;
    const fromMs = Math.max(move.atMs, opening.fromMs);
    const toMs = Math.min(moves[index + 1]?.atMs ?? opening.toMs, opening.toMs);
    const gapUm = move.gapUm >= fullGapUm ? null : move.gapUm;
    if (toMs > fromMs) stretches.push({ fromMs, toMs, gapUm });
  }
  return stretches;
}

export function DoorLane({ scene, facts, x, lane }: LaneProps): VNode {
  const { openings } = facts;
  const base = lane.y + lane.height;
  return (
    <g>
      {openings.length > mostTitled ? (
        <Crowd openings={openings} x={x} lane={lane} />
      ) : (
        openings.map((opening) => <Opening scene={scene} opening={opening} x={x} lane={lane} />)
      )}
      <path class="dw-axis" d={`M${px(x(facts.fromMs))} ${base + 0.5}H${px(x(facts.toMs))}`} />
    </g>
  );
}

function Opening({
  scene,
  opening,
  x,
  lane,
}: {
  readonly scene: Scene;
  readonly opening: SeenOpening;
  readonly x: TimeScale;
  readonly lane: Lane;
}): VNode {
  const { judged, index } = opening;
  const base = lane.y + lane.height;
  const stretches = gapStretches(scene, opening);
  const d = stretches.map((stretch) => {
    const { x: left, width } = stretchPx(x, stretch, 1.2);
    const height = px(heightOf(judged.outcome, stretch.gapUm, lane.height));
    return `M${left} ${base}v${-height}h${width}v${height}Z`;
  });
  return (
    <g>
      <Shape
        class={`dw-${judged.outcome}`}
        d={d.join('')}
        title={() => openingTitle(scene, index)}
      />
      {stretches.map((stretch) => gapLabel(stretch, x, lane))}
    </g>
  );
}

/** A door ajar stands lower than one wide open; a brief opening somewhat lower than a leave-open. */
function heightOf(outcome: string, gapUm: number | null, full: number): number {
  const most = outcome === 'brief' ? full * 0.72 : full;
  return gapUm === null ? most : most * (0.25 + 0.2 * Math.min(1, gapUm / fullGapUm));
}

function gapLabel(stretch: GapStretch, x: TimeScale, lane: Lane): VNode | null {
  if (stretch.gapUm === null) return null;
  const words = `ajar ${String(stretch.gapUm / 1_000)} mm`;
  const room = x(stretch.toMs) - x(stretch.fromMs);
  if (textWidth(words, { sizePx: 11 }) + 6 > room) return null;
  return (
    <Words x={x(stretch.fromMs) + 4} y={lane.y + 9} class="dw-halo">
      {words}
    </Words>
  );
}

function Crowd({
  openings,
  x,
  lane,
}: {
  readonly openings: readonly SeenOpening[];
  readonly x: TimeScale;
  readonly lane: Lane;
}): VNode {
  const base = lane.y + lane.height;
  const shapes = new Map<string, string>();
  for (const { judged, ...span } of openings) {
    const { x: left, width } = stretchPx(x, span, 1);
    const height = px(heightOf(judged.outcome, null, lane.height));
    const known = shapes.get(judged.outcome) ?? '';
    shapes.set(judged.outcome, `${known}M${left} ${base}v${-height}h${width}v${height}Z`);
  }
  return (
    <g>
      {[...shapes].map(([outcome, d]) => (
        <Shape class={`dw-${outcome}`} d={d} />
      ))}
    </g>
  );
}

/** Where the contact reads open, when that is not simply where the door is open. */
export function ContactLane({ facts, x, lane }: Omit<LaneProps, 'scene'>): VNode {
  return (
    <g>
      {(facts.readsOpen ?? facts.openings).map((span) => (
        <Bar
          {...stretchPx(x, span, 1)}
          y={lane.y}
          height={lane.height}
          class="dw-reads-open"
          title="the contact reads open"
        />
      ))}
    </g>
  );
}
