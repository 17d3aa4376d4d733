// A strip: one window of the timeline with a lane each for the door, the contact's checks, the retained memory, the
// alerts and the quiet after them.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import type { CloseUp } from '../close-ups.js';
import { At, Bar, Words } from '../drawing.js';
import type { StripFacts } from '../facts/strip-facts.js';
import type { Scene } from '../scene.js';
import { AlertLane } from './alert-lane.js';
import { Axis } from './axis.js';
import { Bands, HeldBars, QuietLane } from './bands.js';
import { CheckLane } from './check-lane.js';
import { ContactLane, DoorLane } from './door-lane.js';
import { DoorWords } from './door-words.js';
import type { Lane, Lanes } from './lanes.js';
import { MemoryLane } from './memory-lane.js';

/** Room for the names of the lanes, left of the plot. */
export const laneNamesPx = 62;

export function Strip(props: {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly lanes: Lanes;
  readonly widthPx: number;
  readonly closeUp: CloseUp | null;
  readonly numbered: readonly CloseUp[];
}): VNode {
  const { scene, facts, lanes, widthPx, closeUp, numbered } = props;
  const plotPx = widthPx - laneNamesPx;
  const x = scaleLinear([facts.fromMs, facts.toMs], [0, plotPx]);
  const { door, contact, checks, memory, alerts, cooldown, axis } = lanes;
  const common = { scene, facts, x };
  return (
    <g>
      <LaneNames lanes={lanes} />
      <At x={laneNamesPx} y={0}>
        <Bar x={0} y={door.y - 3} width={plotPx} height={axis.y - door.y + 3} class="dw-panel" />
        <Bands {...common} lanes={lanes} />
        <Axis
          calendar={scene.calendar}
          fromMs={facts.fromMs}
          toMs={facts.toMs}
          x={x}
          widthPx={plotPx}
          y={axis.y}
          topY={door.y - 3}
        />
        <DoorLane {...common} lane={door} />
        {contact === null ? null : <ContactLane facts={facts} x={x} lane={contact} />}
        {checks === null ? null : <CheckLane {...common} lane={checks} />}
        {checks === null ? null : <HeldBars {...common} lane={checks} />}
        {memory === null ? null : <MemoryLane {...common} lane={memory} />}
        {alerts === null ? null : <AlertLane {...common} lane={alerts} />}
        {cooldown === null ? null : <QuietLane {...common} lane={cooldown} />}
        <DoorWords {...common} lanes={lanes} closeUp={closeUp} numbered={numbered} />
      </At>
    </g>
  );
}

function LaneNames({ lanes }: { readonly lanes: Lanes }): VNode {
  const names: readonly (readonly [string, Lane | null, number])[] = [
    ['Door', lanes.door, 0.5],
    ['Contact', lanes.contact, 0.5],
    ['Checks', lanes.checks, 0.5],
    ['Memory', lanes.memory, 0.5],
    ['Alerts', lanes.alerts, 0.22],
    ['Sending', lanes.alerts, 0.75],
    ['Cooldown', lanes.cooldown, 0.5],
  ];
  return (
    <g>
      {names.map(([name, lane, share]) =>
        lane === null ? null : (
          <Words
            x={laneNamesPx - 8}
            y={lane.y + lane.height * share + 4}
            anchor="end"
            class="dw-soft"
          >
            {name}
          </Words>
        ),
      )}
    </g>
  );
}
