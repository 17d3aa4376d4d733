// Alerts. Above: where each was decided, by its kind. Below: while it was pending, each attempt to send it.
import type { VNode } from 'preact';
import type { SendRecord } from '../../sim/index.js';
import { Bar, Shape, stretchPx, type TimeScale, Words } from '../drawing.js';
import type { StripFacts } from '../facts/strip-facts.js';
import { cell, circle, diamond, halfDisc, thinCross } from '../glyphs.js';
import { AlertMark } from '../marks.js';
import { counted, px } from '../numbers.js';
import type { Scene } from '../scene.js';
import { alertTitle, sendTitle } from '../words.js';
import type { Lane } from './lanes.js';

interface Props {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lane: Lane;
}

/** The least distance between two marks of one outcome; between them, ticks stand for the others. */
const markRoomPx = 8;

export function AlertLane(props: Props): VNode {
  const { scene, facts, x, lane } = props;
  const decidedY = lane.y + 7;
  const sendsY = lane.y + 24;
  return (
    <g>
      <path class="dw-rule" d={`M${px(x(facts.fromMs))} ${sendsY}H${px(x(facts.toMs))}`} />
      {facts.alerts.map(({ pending }) =>
        pending === null ? null : (
          <Bar {...stretchPx(x, pending, 1)} y={sendsY - 4} height={8} class="dw-pending" />
        ),
      )}
      {facts.failures.map((span) => (
        <FailureCount {...span} x={x} y={sendsY} />
      ))}
      <Sends {...props} y={sendsY} />
      {facts.heartbeats.map((sent) => (
        <Shape
          class="dw-heartbeat"
          d={diamond(x(sent.endMs), sendsY, 3)}
          title={() => sendTitle(scene, sent, 'Heartbeat')}
        />
      ))}
      {facts.lowBattery.map((sent) => (
        <Shape
          class="dw-low-battery"
          d={cell(x(sent.endMs), sendsY, 4.5)}
          title={() => sendTitle(scene, sent, 'Low-battery message')}
        />
      ))}
      {facts.alerts.map(({ alert, decidedMs, kind, delivered }) => {
        const judged = scene.verdict.alerts[alert];
        if (judged === undefined || decidedMs < facts.fromMs) return null;
        return (
          <AlertMark
            x={x(decidedMs)}
            y={decidedY}
            r={kind === 'false' ? 7 : 5}
            kind={kind}
            delivered={delivered}
            title={() => alertTitle(scene, judged)}
          />
        );
      })}
    </g>
  );
}

/** How many attempts in a row have failed, as the device remembers it. */
function FailureCount(props: {
  readonly fromMs: number;
  readonly toMs: number;
  readonly failed: number;
  readonly x: TimeScale;
  readonly y: number;
}): VNode | null {
  const { x: left, width } = stretchPx(props.x, props);
  if (width < 24) return null;
  const words = width < 60 ? String(props.failed) : `${props.failed} failed`;
  return (
    <Words x={left + width / 2} y={props.y + 3.5} anchor="middle" class="dw-t-known dw-halo">
      {words}
    </Words>
  );
}

function Sends({ scene, facts, x, y }: Props & { readonly y: number }): VNode {
  let lastX = Number.NEGATIVE_INFINITY;
  let skipped = 0;
  const drawn = facts.attempts.map((attempt) => {
    const at = x(attempt.endMs);
    const hidden = attempt.outcome === 'failed' && at - lastX < markRoomPx;
    if (hidden) skipped += 1;
    else lastX = at;
    return <Send scene={scene} attempt={attempt} x={x} y={y} withMark={!hidden} />;
  });
  return (
    <g>
      {skipped > 0 ? <title>{counted(facts.attempts.length, 'attempt')}</title> : null}
      {drawn}
    </g>
  );
}

function Send({
  scene,
  attempt,
  x,
  y,
  withMark,
}: {
  readonly scene: Scene;
  readonly attempt: SendRecord;
  readonly x: TimeScale;
  readonly y: number;
  readonly withMark: boolean;
}): VNode {
  const { x: left, width } = stretchPx(x, { fromMs: attempt.startMs, toMs: attempt.endMs }, 1);
  const title = () => sendTitle(scene, attempt, 'Attempt');
  const bar = `M${left} ${y + 2}h${width}v-4h${-width}Z`;
  if (!withMark) return <Shape class="dw-failed-tick" d={`M${left} ${y - 4}v8`} title={title} />;
  const endX = x(attempt.endMs);
  switch (attempt.outcome) {
    case 'delivered':
      return <Shape class="dw-delivered" d={bar + circle(endX, y, 4)} title={title} />;
    case 'failed':
      return <Shape class="dw-failed" d={thinCross(endX, y, 3.2)} title={title} />;
    case 'cutOff':
      return <Shape class="dw-cut-off" d={halfDisc(endX, y, 4.5)} title={title} />;
  }
}
