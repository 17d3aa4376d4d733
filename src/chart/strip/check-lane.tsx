// The contact's checks as ticks: an open one stands up with a filled dot, a shut one hangs down with a bar.
import type { VNode } from 'preact';
import { durationText } from '../../base/index.js';
import { stampText } from '../calendar.js';
import { Bar, Shape, type TimeScale } from '../drawing.js';
import type { StripFacts } from '../facts/strip-facts.js';
import type { CheckRun } from '../facts/wakes.js';
import { circle, triangleUp } from '../glyphs.js';
import { counted, px } from '../numbers.js';
import type { Scene } from '../scene.js';
import type { Lane } from './lanes.js';

interface Props {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lane: Lane;
}

/** Checks closer together than this lose their dots; closer than the second, their ticks. */
const dotRoomPx = 6;
const tickRoomPx = 1.8;
const mostTitled = 150;

export function CheckLane({ scene, facts, x, lane }: Props): VNode {
  const middle = lane.y + lane.height / 2;
  const count = facts.checks.reduce((sum, run) => sum + run.count, 0);
  const roomy = count <= mostTitled && meanDistance(facts, x, count) >= dotRoomPx;
  return (
    <g>
      <path class="dw-rule" d={`M${px(x(facts.fromMs))} ${middle}H${px(x(facts.toMs))}`} />
      {facts.checks.map((run) =>
        roomy ? (
          <Checks scene={scene} run={run} x={x} middle={middle} />
        ) : (
          <Crowd scene={scene} run={run} x={x} middle={middle} />
        ),
      )}
      <WrongChecks scene={scene} facts={facts} x={x} lane={lane} />
    </g>
  );
}

/** Rings around checks that did not tell the truth; strokes under them where rings would touch. */
function WrongChecks({ scene, facts, x, lane }: Props): VNode {
  const { wrongChecks } = facts;
  const ring = 5.5;
  const at = wrongChecks.map(({ atMs }) => x(atMs));
  const apart = at.every((here, index) => here - (at[index - 1] ?? -ring * 2) >= ring * 2);
  const foot = lane.y + lane.height - 1;
  if (!apart || wrongChecks.length > mostTitled) {
    const strokes = new Set(at.map((here) => `M${px(here)} ${foot}v4`));
    const title = `${counted(wrongChecks.length, 'check reads', 'checks read')} wrong`;
    return <Shape class="dw-check-wrong" d={[...strokes].join('')} title={title} />;
  }
  return (
    <g>
      {wrongChecks.map(({ atMs, reads }) => (
        <Shape
          class="dw-check-wrong"
          d={circle(x(atMs), lane.y + lane.height / 2 + (reads === 'open' ? -6 : 4), ring)}
          title={() => `Reads wrong: ${stampText(scene.calendar, atMs)}`}
        />
      ))}
    </g>
  );
}

function meanDistance(facts: StripFacts, x: TimeScale, count: number): number {
  return (x(facts.toMs) - x(facts.fromMs)) / Math.max(1, count);
}

interface RunProps {
  readonly scene: Scene;
  readonly run: CheckRun;
  readonly x: TimeScale;
  readonly middle: number;
}

function Checks({ scene, run, x, middle }: RunProps): VNode {
  const instants = Array.from({ length: run.count }, (_, nth) => run.firstMs + nth * run.periodMs);
  return (
    <>
      {instants.map((atMs) => {
        const at = px(x(atMs));
        const open = run.reads === 'open';
        return (
          <Shape
            class={`dw-check-${run.reads}`}
            d={
              open
                ? `M${at} ${middle}v-6${circle(at, middle - 7, 2.8)}`
                : `M${at} ${middle}v6M${px(at - 2.5)} ${middle + 6}h5`
            }
            title={() => `Check reads ${run.reads}: ${stampText(scene.calendar, atMs)}`}
          />
        );
      })}
      {run.wake.cause === 'contact' ? (
        <Shape
          class="dw-contact-wake"
          d={triangleUp(x(run.firstMs) - 6, middle + 5, 3)}
          title={() => `Woken by the contact: ${stampText(scene.calendar, run.wake.wakeMs)}`}
        />
      ) : null}
    </>
  );
}

/** A row of like checks as bare ticks, or as one bar where even these would touch. */
function Crowd({ scene, run, x, middle }: RunProps): VNode {
  const { reads, count, firstMs, periodMs } = run;
  const up = reads === 'open';
  const lastMs = firstMs + (count - 1) * periodMs;
  const title = (): string => {
    const every = count > 1 ? `, one every ${durationText(periodMs)}` : '';
    return `${counted(count, 'check')} from ${stampText(scene.calendar, firstMs)}${every}: ${reads}`;
  };
  const distance = x(firstMs + periodMs) - x(firstMs);
  if (count > 1 && distance < tickRoomPx) {
    const left = x(firstMs) - 0.5;
    const width = x(lastMs) + 0.5 - left;
    return up ? (
      <Bar
        x={left}
        width={width}
        y={middle - 8}
        height={8}
        class="dw-check-run-open"
        title={title}
      />
    ) : (
      <Bar x={left} width={width} y={middle} height={5} class="dw-check-run-shut" title={title} />
    );
  }
  const ticks = Array.from({ length: count }, (_, nth) => {
    const at = px(x(firstMs + nth * periodMs));
    return `M${at} ${middle}v${up ? -8 : 5}`;
  });
  return <Shape class={`dw-check-${reads}`} d={ticks.join('')} title={title} />;
}
