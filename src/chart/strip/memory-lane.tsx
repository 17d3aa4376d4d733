// Retained memory: the remembered checks as pips, filled for open and hollow for shut, oldest first.
import type { VNode } from 'preact';
import { stampText } from '../calendar.js';
import { Bar, Shape, stretchPx, type TimeScale, Words } from '../drawing.js';
import type { MemorySpan } from '../facts/memory.js';
import type { StripFacts } from '../facts/strip-facts.js';
import { square } from '../glyphs.js';
import { counted, px } from '../numbers.js';
import type { Scene } from '../scene.js';
import type { Lane } from './lanes.js';

const pip = 3;
const pipStep = 8;

export function MemoryLane({
  scene,
  facts,
  x,
  lane,
}: {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lane: Lane;
}): VNode {
  const middle = lane.y + lane.height / 2;
  return (
    <g>
      <path class="dw-rule" d={`M${px(x(facts.fromMs))} ${middle}H${px(x(facts.toMs))}`} />
      {facts.memory.map((span) => (
        <Memory scene={scene} span={span} x={x} lane={lane} />
      ))}
    </g>
  );
}

function titleOf(scene: Scene, { checks, shutRun, fromMs }: MemorySpan): string {
  const open = checks.filter((check) => check === 'open').length;
  const { clearThreshold } = scene.watchFile.watch;
  const shut = shutRun > 0 ? `; shut ${shutRun} of ${clearThreshold} in a row` : '';
  const at = stampText(scene.calendar, fromMs);
  return `In memory from ${at}: ${counted(open, 'open check')} of the last ${checks.length}${shut}`;
}

function Memory({
  scene,
  span,
  x,
  lane,
}: {
  readonly scene: Scene;
  readonly span: MemorySpan;
  readonly x: TimeScale;
  readonly lane: Lane;
}): VNode {
  const { x: left, width } = stretchPx(x, span, 0.8);
  const middle = lane.y + lane.height / 2;
  const { checks } = span;
  const open = checks.filter((check) => check === 'open').length;
  const pipsFit = checks.length * pipStep + 3 <= width;
  const firstAt = left + 2 + pipStep / 2;
  return (
    <g>
      <Bar
        x={left}
        width={width}
        y={lane.y}
        height={lane.height}
        class="dw-memory"
        title={() => titleOf(scene, span)}
      />
      {pipsFit
        ? checks.map((check, index) => (
            <Shape class={`dw-pip-${check}`} d={square(firstAt + index * pipStep, middle, pip)} />
          ))
        : null}
      {!pipsFit && width >= 10 ? (
        <Words x={left + 2} y={middle + 3.5} class="dw-t-known">
          {open}
        </Words>
      ) : null}
      {pipsFit && span.shutRun > 0 ? shutRunLine(span, firstAt, middle) : null}
    </g>
  );
}

/** A stroke under the shut checks that count towards forgetting. */
function shutRunLine(span: MemorySpan, firstAt: number, middle: number): VNode | null {
  const from = Math.max(0, span.checks.length - span.shutRun);
  const count = span.checks.length - from;
  if (count === 0) return null;
  const x1 = px(firstAt + from * pipStep - pip);
  return <path class="dw-shut-run" d={`M${x1} ${middle + 5}h${count * pipStep - 2}`} />;
}
