// What the world does to the device: network outages, power losses, resets; and the stretches in which it keeps
// quiet after an alert.
import type { VNode } from 'preact';
import { roundedDurationText } from '../../base/index.js';
import { stampText } from '../calendar.js';
import { Bar, Shape, stretchPx, type TimeScale, Words } from '../drawing.js';
import type { StripFacts } from '../facts/strip-facts.js';
import type { Window } from '../facts/window.js';
import { px } from '../numbers.js';
import type { Scene } from '../scene.js';
import { textWidth } from '../text.js';
import { wordRow } from '../word-row.js';
import type { Lane, Lanes } from './lanes.js';

interface Props {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
}

interface Cap extends Window {
  readonly words: string;
  readonly kind: 'network' | 'power';
}

function capsOf({ networkDown, powerless }: StripFacts, { timeline }: Scene): Cap[] {
  const { powerOnAtMs } = timeline.world;
  const words = ({ toMs }: Window): string =>
    toMs <= powerOnAtMs ? 'before power-on' : 'no power';
  return [
    ...networkDown.map((span): Cap => ({ ...span, words: 'network down', kind: 'network' })),
    ...powerless.map((span): Cap => ({ ...span, words: words(span), kind: 'power' })),
  ];
}

/** Bands behind the lanes of a strip, each with a cap that says what it is. */
export function Bands({ scene, facts, x, lanes }: Props & { readonly lanes: Lanes }): VNode | null {
  const { caps, door, axis } = lanes;
  if (caps === null) return null;
  const top = caps.y + caps.height;
  const row = wordRow(x(facts.fromMs), x(facts.toMs));
  // The shortest first: the long ones have more room to choose from.
  const ordered = capsOf(facts, scene).sort((a, b) => a.toMs - a.fromMs - (b.toMs - b.fromMs));
  return (
    <g>
      {ordered.map((cap) => {
        const { x: left, width } = stretchPx(x, cap, 1.5);
        const size = textWidth(cap.words, { sizePx: 11 });
        const at = row.place([left, left + width - size, left - size + 4], size);
        return (
          <g>
            <Bar
              x={left}
              width={width}
              y={door.y - 3}
              height={axis.y - door.y + 3}
              class={`dw-${cap.kind}`}
              title={() => titled(scene, cap.words, cap)}
            />
            <Bar x={left} width={width} y={top - 3} height={3} class={`dw-${cap.kind}-cap`} />
            {at === null ? null : (
              <Words x={at} y={top - 5} class={`dw-halo dw-t-${cap.kind}`}>
                {cap.words}
              </Words>
            )}
          </g>
        );
      })}
      {facts.resets.map((atMs) => {
        const at = px(x(atMs));
        const words = row.place([at + 2, at - 26], textWidth('reset', { sizePx: 11 }));
        return (
          <g>
            <Shape
              class="dw-reset"
              d={`M${at} ${words === null ? top - 3 : caps.y}V${axis.y}`}
              title={() => `Reset: ${stampText(scene.calendar, atMs)}`}
            />
            {words === null ? null : (
              <Words x={words} y={top - 5} class="dw-halo dw-t-power">
                reset
              </Words>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** Cooldown after each delivery. */
export function QuietLane({ scene, facts, x, lane }: Props & { readonly lane: Lane }): VNode {
  return (
    <g>
      {facts.cooldowns.map((span) => (
        <Bar
          {...stretchPx(x, span, 1)}
          y={lane.y}
          height={lane.height}
          class="dw-cooldown"
          title={() => titled(scene, 'Cooldown', span.whole)}
        />
      ))}
    </g>
  );
}

/** The wait for a reset, in the lane of the checks that do not happen meanwhile. */
export function HeldBars({ scene, facts, x, lane }: Props & { readonly lane: Lane }): VNode {
  return (
    <g>
      {facts.held.map((span) => (
        <Bar
          {...stretchPx(x, span, 1)}
          y={lane.y + lane.height / 2 - 4}
          height={8}
          class="dw-held"
          title={() => titled(scene, 'Awake until a reset', span)}
        />
      ))}
    </g>
  );
}

function titled({ calendar }: Scene, what: string, { fromMs, toMs }: Window): string {
  return `${what}: ${stampText(calendar, fromMs)}, ${roundedDurationText(toMs - fromMs)}`;
}
