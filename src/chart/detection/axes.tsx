// The axes of a plot over durations: round durations along its foot, shares up its side.
import type { VNode } from 'preact';
import { durationText, greatestOf } from '../../base/index.js';
import { dayMs } from '../calendar.js';
import { type TimeScale, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { textWidth } from '../text.js';
import { roundStepsMs } from '../ticks.js';

/** Room for the words of the upright axis, left of a plot. */
export const sideWordsPx = 62;

const labelGapPx = 14;

/** Round durations from 0 on whose words do not touch. */
export function durationTicks(toMs: number, widthPx: number): readonly number[] {
  const roomFor = (stepMs: number): number => {
    const last = Math.floor(toMs / stepMs) * stepMs;
    const words = [last, last - stepMs].filter((ms) => ms > 0).map(durationText);
    return (
      Math.max(0, greatestOf(words.map((text) => textWidth(text, { sizePx: 11 })))) + labelGapPx
    );
  };
  const fits = (stepMs: number): boolean => (stepMs / toMs) * widthPx >= roomFor(stepMs);
  const stepMs =
    roundStepsMs.find(fits) ?? dayMs * Math.ceil((roomFor(dayMs) * toMs) / widthPx / dayMs);
  return Array.from({ length: Math.floor(toMs / stepMs) + 1 }, (_, index) => index * stepMs);
}

export function DurationAxis(props: {
  readonly toMs: number;
  readonly x: TimeScale;
  readonly widthPx: number;
  readonly y: number;
  readonly topY: number;
}): VNode {
  const { toMs, x, widthPx, y, topY } = props;
  const ticks = durationTicks(toMs, widthPx);
  const grid = ticks.map((ms) => `M${px(x(ms))} ${px(topY)}V${px(y)}`).join('');
  const marks = ticks.map((ms) => `M${px(x(ms))} ${px(y)}v4`).join('');
  return (
    <g>
      <path class="dw-rule" d={grid} />
      <path class="dw-axis" d={`M0 ${px(y)}H${px(widthPx)}${marks}`} />
      {ticks.map((ms) => (
        <Words {...placeUnder(x(ms), durationText(ms), widthPx)} y={y + 15} class="dw-soft">
          {ms === 0 ? '0' : durationText(ms)}
        </Words>
      ))}
    </g>
  );
}

/** Under its line; a label that would reach beyond the plot ends with it, whatever font it is drawn in. */
export function placeUnder(x: number, words: string, widthPx: number) {
  const widest = 1.1 * textWidth(words, { sizePx: 11 });
  return x + widest / 2 <= widthPx
    ? { x, anchor: 'middle' as const }
    : { x: widthPx, anchor: 'end' as const };
}

export interface ShareTick {
  readonly y: number;
  readonly words: string;
}

/** Words left of the plot, and a hairline across it for each. */
export function ShareAxis({
  ticks,
  widthPx,
}: {
  readonly ticks: readonly ShareTick[];
  readonly widthPx: number;
}): VNode {
  const lines = ticks.map(({ y }) => `M0 ${px(y)}H${px(widthPx)}`).join('');
  return (
    <g>
      <path class="dw-rule" d={lines} />
      {ticks.map(({ y, words }) => (
        <Words x={-8} y={y + 4} anchor="end" class="dw-soft">
          {words}
        </Words>
      ))}
    </g>
  );
}
