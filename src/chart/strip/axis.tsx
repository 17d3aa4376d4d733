// The time axis under a strip, and the hairlines that carry its ticks up through the lanes.
import type { VNode } from 'preact';
import type { Calendar } from '../calendar.js';
import { type TimeScale, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { labelled, ticksOf } from '../ticks.js';

/** @param topY the hairlines start here; they end at the axis, `y`. */
export function Axis(props: {
  readonly calendar: Calendar;
  readonly fromMs: number;
  readonly toMs: number;
  readonly x: TimeScale;
  readonly widthPx: number;
  readonly y: number;
  readonly topY: number;
}): VNode {
  const { calendar, x, widthPx, y, topY } = props;
  const ticks = ticksOf(calendar, props);
  const shown = labelled(ticks, { x, widthPx });
  const grid = ticks.map(({ atMs }) => `M${px(x(atMs))} ${topY}V${y}`).join('');
  const marks = ticks.map(({ atMs }) => `M${px(x(atMs))} ${y}v4`).join('');
  return (
    <g>
      <path class="dw-rule" d={grid} />
      <path class="dw-axis" d={`M0 ${y}H${px(widthPx)}${marks}`} />
      {[...shown].map(({ atMs, label, startsDay }) => (
        <Words x={x(atMs)} y={y + 15} anchor="middle" class={startsDay ? 'dw-bold' : 'dw-soft'}>
          {label}
        </Words>
      ))}
    </g>
  );
}
