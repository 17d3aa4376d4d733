// The detection latency of a door that stays open: the share of openings in each stretch of
// time. With times that vary within ranges no chance is known; then the least and the most that are reported by then.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import {
  durationText,
  greatestOf,
  percentText,
  roughDurationText,
  roundedDurationText,
} from '../../base/index.js';
import { valueAt } from '../../bounds/index.js';
import { At, Bar, type Block, Shape, type TimeScale, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { panelTitle } from '../page/panel-title.js';
import { Dimension } from '../strip/dimension.js';
import { DurationAxis, ShareAxis, type ShareTick, sideWordsPx } from './axes.js';
import { pieceOf, reachedAt } from './curve.js';
import { type Flag, Flags, flagRowPx, flagRows, placeFlags } from './flags.js';
import type { DetectionScene } from './scene.js';

const plotPx = 130;
const dimensionPx = 20;
const axisPx = 22;
const barPx = 14;
const leastBarPx = 3;

export function delayPanel(scene: DetectionScene, fullPx: number): Block {
  const widthPx = fullPx - sideWordsPx;
  const x = scaleLinear([0, scene.toMs], [0, widthPx]);
  const flags = placeFlags(flagsOf(scene), x, widthPx);
  const limits = limitsOf(scene);
  const dimensionsPx = limits.length * dimensionPx;
  const inner = { scene, widthPx, x };
  const plot = scene.bounds.delayDistributionMost === null ? barPlot(inner) : bandPlot(inner);
  const title = panelTitle(plot.title, fullPx);
  const topY = title.height + flagRows(flags) * flagRowPx + dimensionsPx + 8;
  return {
    height: topY + plotPx + axisPx,
    node: (
      <g>
        {title.node}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={plot.ticks} widthPx={widthPx} />
          <DurationAxis toMs={scene.toMs} x={x} widthPx={widthPx} y={plotPx} topY={0} />
          {plot.node}
          <Flags flags={flags} topY={-dimensionsPx - 2} footY={plotPx} />
          {limits.map((limit, index) => (
            <Dimension
              {...limit}
              x1={x(0)}
              x2={x(limit.ms)}
              y={-dimensionsPx + index * dimensionPx + 8}
              footY={plotPx}
              minX={0}
              maxX={widthPx}
            />
          ))}
          {scene.bounds.bestDelayMs === null ? (
            <Words
              x={widthPx / 2}
              y={plotPx / 2}
              anchor="middle"
              class="dw-bold dw-halo dw-t-missed"
            >
              No alert is ever delivered.
            </Words>
          ) : null}
        </At>
      </g>
    ),
  };
}

function limitsOf({ bounds, toMs }: DetectionScene) {
  const { bestDelayMs, worstDelayMs } = bounds;
  const worst = worstDelayMs.atRest;
  return [
    ...(worst === null
      ? []
      : [
          {
            ms: Math.min(worst, toMs),
            goesOn: worst > toMs,
            words: `worst latency ${roundedDurationText(worst, 'at most')}`,
            title: `The latest that an alert can come: ${roundedDurationText(worst, 'at most')}`,
            strong: true,
          },
        ]),
    ...(bestDelayMs === null || bestDelayMs === worst
      ? []
      : [
          {
            ms: bestDelayMs,
            goesOn: false,
            words: `best ${roundedDurationText(bestDelayMs, 'at least')}`,
            title: `The soonest that an alert can come: ${roundedDurationText(bestDelayMs, 'at least')}`,
            strong: false,
          },
        ]),
  ];
}

function flagsOf({ bounds, watchFile, toMs }: DetectionScene): readonly Flag[] {
  const { reportWithinMs } = watchFile.judge;
  const halfMs = reachedAt(bounds.delayDistribution, 0.5);
  const flags: Flag[] = [];
  if (reportWithinMs !== null && reportWithinMs <= toMs) {
    const words = `to be reported within ${durationText(reportWithinMs)}`;
    const kept =
      bounds.worstDelayMs.atRest !== null && bounds.worstDelayMs.atRest <= reportWithinMs;
    flags.push({ ms: reportWithinMs, words, look: kept ? 'strong' : 'late' });
  }
  if (halfMs !== null && bounds.bestDelayMs !== bounds.worstDelayMs.atRest) {
    const ms = Math.ceil(halfMs);
    flags.push({ ms, words: `half are reported by ${roughDurationText(ms)}`, look: 'soft' });
  }
  return flags;
}

interface Plot {
  readonly title: string;
  readonly ticks: readonly ShareTick[];
  readonly node: VNode;
}

interface Inner {
  readonly scene: DetectionScene;
  readonly widthPx: number;
  readonly x: TimeScale;
}

interface Bin {
  readonly fromMs: number;
  readonly toMs: number;
  readonly share: number;
}

function barPlot({ scene, widthPx, x }: Inner): Plot {
  const bins = binsOf(scene, (scene.toMs * barPx) / widthPx);
  const most = Math.max(0, greatestOf(bins.map(({ share }) => share)));
  const y = scaleLinear([0, most === 0 ? 1 : most * 1.08], [plotPx, 0]);
  const { reportWithinMs } = scene.watchFile.judge;
  const lateFrom = reportWithinMs === null ? Number.POSITIVE_INFINITY : reportWithinMs + 1;
  return {
    title: 'When the alert arrives, for a door that stays open: share of openings in each bar',
    ticks: y.ticks(3).map((share) => ({ y: y(share), words: percentText(share) })),
    node: (
      <g>
        {bins.map((bin) => {
          const { fromMs, toMs, share } = bin;
          const place = { y: y(share), height: plotPx - y(share), title: titleOf(bin) };
          const left = x(fromMs) + 0.5;
          const right = Math.max(left + leastBarPx, x(toMs) - 0.5);
          const cut = toMs <= lateFrom ? right : Math.max(left, x(Math.max(fromMs, lateFrom)));
          return (
            <g>
              {cut > left ? (
                <Bar {...place} x={left} width={cut - left} class="dw-reported" />
              ) : null}
              {right > cut ? <Bar {...place} x={cut} width={right - cut} class="dw-late" /> : null}
            </g>
          );
        })}
      </g>
    ),
  };
}

/** Times are rounded for people, so they are said to be about that, unless both ends would read the same. */
function titleOf({ fromMs, toMs, share }: Bin): string {
  const percent = percentText(share);
  const [from, to] = [roundedDurationText(fromMs), roundedDurationText(toMs)];
  if (toMs - fromMs === 1) return `${percent} after ${from}`;
  return from === to
    ? `${percent} after ${durationText(fromMs)} to ${durationText(toMs - 1)}`
    : `${percent} after about ${from} to ${to}`;
}

/** Equal stretches, whole milliseconds each, from the soonest alert to the latest. */
function binsOf({ bounds, toMs }: DetectionScene, aboutMs: number): readonly Bin[] {
  const { delayDistribution } = bounds;
  const first = (delayDistribution[0]?.[0] ?? toMs) + 1;
  const end = Math.min(toMs, delayDistribution.at(-1)?.[0] ?? 0) + 1;
  const count = Math.max(1, Math.min(end - first, Math.round((end - first) / aboutMs)));
  const edge = (index: number): number => first + Math.round(((end - first) * index) / count);
  return Array.from({ length: end > first ? count : 0 }, (_, index) => {
    const [from, to] = [edge(index), edge(index + 1)];
    const share = valueAt(delayDistribution, to - 1) - valueAt(delayDistribution, from - 1);
    return { fromMs: from, toMs: to, share };
  }).filter(({ share }) => share > 0);
}

function bandPlot({ scene, x }: Inner): Plot {
  const { delayDistribution, delayDistributionMost } = scene.bounds;
  const y = scaleLinear([0, 1], [plotPx, 0]);
  const points = (curve: typeof delayDistribution) => pieceOf(curve, 0, scene.toMs);
  const line = (piece: ReturnType<typeof points>): string =>
    piece.map(({ ms, share }) => `L${px(x(ms))} ${px(y(share))}`).join('');
  const least = points(delayDistribution);
  const most = points(delayDistributionMost ?? delayDistribution);
  const between = `${line(most)}${line([...least].reverse())}Z`.replace(/^L/u, 'M');
  return {
    title: 'Detection latency of a door that stays open: the least and the most',
    ticks: [0, 0.5, 1].map((share) => ({ y: y(share), words: percentText(share) })),
    node: (
      <g>
        <Shape class="dw-told" d={between} title="Between the least and the most" />
        <Shape class="dw-curve-most" d={line(most).replace(/^L/u, 'M')} title="At most" />
        <Shape class="dw-curve" d={line(least).replace(/^L/u, 'M')} title="At least" />
      </g>
    ),
  };
}
