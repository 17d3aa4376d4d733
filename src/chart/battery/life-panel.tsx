// Life against check interval: each doubling of the interval as wide as the next, days from 0 up.
import { scaleLinear, scaleLog } from 'd3-scale';
import { dayMs, durationText, greatestOf, meanYearMs } from '../../base/index.js';
import { type BatteryAnswer, chargeText, lifeText } from '../../battery/index.js';
import { ShareAxis, sideWordsPx } from '../detection/axes.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { circle } from '../glyphs.js';
import { px } from '../numbers.js';
import { cutText, textWidth } from '../text.js';

const titlePx = 40;
const plotPx = 190;
const axisPx = 22;

interface Point {
  readonly checkIntervalMs: number;
  readonly lifeMs: number;
  readonly isSet: boolean;
}

/** Null where there is no curve to draw: by these numbers a charge outlasts everybody. */
export function lifePanel({ intervals, supply }: BatteryAnswer, fullPx: number): Block | null {
  const points = intervals.flatMap(({ lifeMs, ...rest }): Point[] =>
    lifeMs === null ? [] : [{ ...rest, lifeMs }],
  );
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined || points.length < 2) return null;
  const widthPx = fullPx - sideWordsPx;
  const x = scaleLog([first.checkIntervalMs, last.checkIntervalMs], [14, widthPx - 14]);
  const unit =
    last.lifeMs >= 2 * meanYearMs ? { ms: meanYearMs, name: 'y' } : { ms: dayMs, name: 'd' };
  const y = scaleLinear([0, greatestOf(points.map(({ lifeMs }) => lifeMs / unit.ms))], [plotPx, 0]);
  y.nice(4);
  const at = (lifeMs: number): number => y(lifeMs / unit.ms);
  const ticks = y
    .ticks(4)
    .map((count) => ({ y: y(count), words: `${String(count)} ${unit.name}` }));
  // The one that is set over the others, with its words.
  const inTurn = [...points.filter(({ isSet }) => !isSet), ...points.filter(({ isSet }) => isSet)];
  const line = points.map(({ checkIntervalMs, lifeMs }, index) => {
    return `${index === 0 ? 'M' : 'L'}${px(x(checkIntervalMs))} ${px(at(lifeMs))}`;
  });
  return {
    height: titlePx + plotPx + axisPx,
    node: (
      <g>
        <Words x={0} y={12} size={13} class="dw-bold">
          {cutText(`${lifeOf(supply)} by check interval, door never opened`, fullPx, {
            sizePx: 13,
            bold: true,
          })}
        </Words>
        <At x={sideWordsPx} y={titlePx}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          <IntervalAxis points={points} x={x} widthPx={widthPx} />
          <Shape class="dw-curve" d={line.join('')} />
          {inTurn.map((point) => lifePoint(point, x(point.checkIntervalMs), at(point.lifeMs)))}
        </At>
      </g>
    ),
  };
}

function lifeOf({ cells, capacityNah }: BatteryAnswer['supply']): string {
  return cells === undefined ? 'Life on a charge' : `Life of cells of ${chargeText(capacityNah)}`;
}

function lifePoint({ checkIntervalMs, lifeMs, isSet }: Point, x: number, y: number) {
  const title = `A check every ${durationText(checkIntervalMs)}: ${lifeText(lifeMs)}`;
  if (!isSet) return <Shape class="dw-reported" d={circle(x, y, 3)} title={title} />;
  const words = `as set: ${lifeText(lifeMs)}`;
  // The curve rises: left above it there is room, and right below it.
  const fits = x > textWidth(words, { sizePx: 11 }) + 16;
  return (
    <g>
      <Shape class="dw-asked-told" d={circle(x, y, 6)} title={title} />
      <Words
        x={fits ? x - 4 : x + 9}
        y={fits ? y - 11 : Math.min(y + 15, plotPx - 5)}
        class="dw-halo"
        {...(fits ? { anchor: 'end' } : {})}
      >
        {words}
      </Words>
    </g>
  );
}

/** The intervals themselves, those left out whose words would touch; the one that is set is never left out. */
function IntervalAxis({
  points,
  x,
  widthPx,
}: {
  readonly points: readonly Point[];
  readonly x: (ms: number) => number;
  readonly widthPx: number;
}) {
  const shown: { readonly at: number; readonly words: string; readonly half: number }[] = [];
  const inTurn = [...points.filter(({ isSet }) => isSet), ...points.filter(({ isSet }) => !isSet)];
  for (const { checkIntervalMs } of inTurn) {
    const words = durationText(checkIntervalMs);
    const half = textWidth(words, { sizePx: 11 }) / 2 + 5;
    const at = x(checkIntervalMs);
    if (shown.every((other) => Math.abs(other.at - at) > other.half + half)) {
      shown.push({ at, words, half });
    }
  }
  const marks = points.map(({ checkIntervalMs }) => `M${px(x(checkIntervalMs))} ${plotPx}v4`);
  return (
    <g>
      <path class="dw-axis" d={`M0 ${plotPx}H${px(widthPx)}${marks.join('')}`} />
      {shown.map(({ at, words }) => (
        <Words x={at} y={plotPx + 16} anchor="middle" class="dw-soft">
          {words}
        </Words>
      ))}
    </g>
  );
}
