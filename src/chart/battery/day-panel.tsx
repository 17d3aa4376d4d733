// One day as a bar: current as height, averaged over slots, so that area is charge. Its layers stand on one another, and
// beside them is what each takes.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import { durationText, greatestOf } from '../../base/index.js';
import { type Activity, chargeText, currentText, shareText } from '../../battery/index.js';
import { pcPerNah } from '../../model/index.js';
import { DurationAxis } from '../detection/axes.js';
import { type Block, Shape } from '../drawing.js';
import { px } from '../numbers.js';
import { panelTitle } from '../page/panel-title.js';
import { Axis } from '../strip/axis.js';
import { printable, wrapText } from '../text.js';
import type { Day, DayLayer } from './day.js';
import { activityWords } from './scene.js';
import { type Entry, plotRoom, sidePanel } from './side-column.js';

const plotPx = 150;
const captionFont = { sizePx: 11 };
/** Beside the plot, where there is room for both; else below it. */
const columnPx = 250;
const leastBesidePx = 720;

/** The class of each layer: no two that meet differ by colour alone. */
export const activityLooks: Readonly<Record<Activity, string>> = {
  sleep: 'dw-use-sleep',
  selfDischarge: 'dw-undecided',
  contactBias: 'dw-cooldown',
  boot: 'dw-reads-open',
  blink: 'dw-late',
  heartbeat: 'dw-use-heartbeat',
  hold: 'dw-pending',
  joinWait: 'dw-network',
  connect: 'dw-reported',
  failedAttempt: 'dw-missed',
};

/** The highest current of a day in nA, averaged over its slots. */
export function peakNa(day: Day): number {
  const sums = day.edges.slice(1).map((toMs, slot) => meanOf(day, slot, toMs, day.layers.length));
  return Math.max(1, greatestOf(sums));
}

/** Of the lowest `count` layers together. */
function meanOf({ layers, edges }: Day, slot: number, toMs: number, count: number): number {
  const pc = layers.slice(0, count).reduce((sum, { slotsPc }) => sum + (slotsPc[slot] ?? 0), 0);
  return pc / Math.max(1, toMs - (edges[slot] ?? 0));
}

/** @param mostNa the height of the plot, so that days beside one another have one scale. */
export function dayPanel(
  day: Day,
  { mostNa, fullPx, lasts }: { mostNa: number; fullPx: number; lasts: string },
): Block {
  const room = plotRoom(fullPx, { columnPx, leastBesidePx });
  const { widthPx } = room;
  const fromMs = day.edges[0] ?? 0;
  const toMs = day.edges.at(-1) ?? 1;
  const x = scaleLinear([fromMs, toMs], [0, widthPx]);
  const y = scaleLinear([0, mostNa], [plotPx, 0]).nice(4);
  const title = panelTitle(`${printable(day.name)}: ${chargeText(nahOfPc(day.totalPc))}`, fullPx);
  const caption = wrapText(captionOf(day, lasts), fullPx, { font: captionFont, mostLines: 3 });
  const box = boxOf(x(fromMs + 3_600_000) - x(fromMs), plotPx / (y.domain()[1] ?? mostNa));
  const ticks = y.ticks(4).map((na) => ({ y: y(na), words: na === 0 ? '0' : currentText(na) }));
  const plot = (
    <>
      {day.layers.map((layer, index) => layerOf(layer, { day, index, x, y }))}
      {day.calendar === null ? (
        <DurationAxis toMs={toMs} x={x} widthPx={widthPx} y={plotPx} topY={plotPx} />
      ) : (
        <Axis
          calendar={day.calendar}
          fromMs={fromMs}
          toMs={toMs}
          x={x}
          widthPx={widthPx}
          y={plotPx}
          topY={plotPx}
        />
      )}
    </>
  );
  const entries = [...entriesOf(day), ...box];
  return sidePanel({ title, caption, entries, plotPx, ticks, plot }, room);
}

export function nahOfPc(pc: number): number {
  return Math.round(pc / Number(pcPerNah));
}

function captionOf({ edges }: Day, lasts: string): string {
  const slotMs = edges.length > 2 ? (edges[1] ?? 0) - (edges[0] ?? 0) : null;
  const averaged = slotMs === null ? '' : `, averaged over ${durationText(slotMs)}`;
  return `Height is current${averaged}; area is charge. ${lasts}`;
}

function layerOf(
  { activity, totalPc }: DayLayer,
  {
    day,
    index,
    x,
    y,
  }: { day: Day; index: number; x: (ms: number) => number; y: (na: number) => number },
): VNode {
  const over: string[] = [];
  const under: string[] = [];
  day.edges.slice(1).forEach((toMs, slot) => {
    const [left, right] = [px(x(day.edges[slot] ?? 0)), px(x(toMs))];
    const at = (count: number): string => String(px(y(meanOf(day, slot, toMs, count))));
    over.push(`${left} ${at(index + 1)}`, `${right} ${at(index + 1)}`);
    under.push(`${left} ${at(index)}`, `${right} ${at(index)}`);
  });
  const title = `${activityWords[activity]}: ${chargeText(nahOfPc(totalPc))}`;
  return (
    <Shape
      class={activityLooks[activity]}
      d={`M${[...over, ...under.reverse()].join('L')}Z`}
      title={title}
    />
  );
}

/** From the top down, as the layers lie. */
function entriesOf({ layers, totalPc }: Day): readonly Entry[] {
  return [...layers].reverse().map(({ activity, totalPc: pc }) => ({
    look: activityLooks[activity],
    words: activityWords[activity],
    figure: `${chargeText(nahOfPc(pc))}, ${shareText(Math.round((pc / totalPc) * 1_000_000))}`,
  }));
}

const boxPx = { height: 14, most: 110, least: 12 };

/** A round charge as the area that it has in this plot. */
function boxOf(hourPx: number, pxPerNa: number): readonly Entry[] {
  const nahPerPx = boxPx.height / pxPerNa / hourPx;
  const mostNah = nahPerPx * boxPx.most;
  const power = 10 ** Math.floor(Math.log10(mostNah));
  const nah = [5, 2, 1].map((times) => times * power).find((round) => round <= mostNah) ?? power;
  const width = nah / nahPerPx;
  if (nah < 1 || width < boxPx.least) return [];
  return [
    { look: 'dw-key-box', words: `this area is ${chargeText(nah)}`, figure: '', samplePx: width },
  ];
}
