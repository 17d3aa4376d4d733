// The chance of an alert against the length of an opening. What a leave-open lacks of certainty is missed, what a
// brief opening has of it is false alarm; between quiet and sure lies the grey band.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import { durationText, percentText, roundedDurationText } from '../../base/index.js';
import { type Curve, valueAt } from '../../bounds/index.js';
import { At, Bar, type Block, Shape, type TimeScale, Words } from '../drawing.js';
import { circle } from '../glyphs.js';
import { px } from '../numbers.js';
import { panelTitle } from '../page/panel-title.js';
import { Dimension } from '../strip/dimension.js';
import { textWidth } from '../text.js';
import { DurationAxis, ShareAxis, sideWordsPx } from './axes.js';
import { type CurvePoint, pieceOf, reachedAt } from './curve.js';
import { type Flag, Flags, flagRowPx, flagRows, placeFlags } from './flags.js';
import type { DetectionScene } from './scene.js';
import { isCalm, reportedAtLeaveOpen } from './words.js';

const plotPx = 210;
const bandRowPx = 20;
const axisPx = 22;

interface Plot {
  readonly scene: DetectionScene;
  readonly widthPx: number;
  readonly x: TimeScale;
  /** From a share to pixels: 1 is the top of the plot. */
  readonly y: (share: number) => number;
}

export function curvePanel(scene: DetectionScene, fullPx: number): Block {
  const widthPx = fullPx - sideWordsPx;
  const x = scaleLinear([0, scene.toMs], [0, widthPx]);
  const y = scaleLinear([0, 1], [plotPx, 0]);
  const flags = placeFlags(flagsOf(scene), x, widthPx);
  const band = bandOf(scene);
  const title = panelTitle(
    isCalm(scene)
      ? 'Chance of an alert, by how long the door stands open'
      : 'Chance of an alert when nothing goes wrong, by how long the door stands open',
    fullPx,
  );
  const topY = title.height + flagRows(flags) * flagRowPx + (band === null ? 0 : bandRowPx) + 8;
  const plot: Plot = { scene, widthPx, x, y };
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((share) => ({
    y: y(share),
    words: percentText(share),
  }));
  return {
    height: topY + plotPx + axisPx,
    node: (
      <g>
        {title.node}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          {band === null ? null : <GreyBand plot={plot} band={band} />}
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          <DurationAxis toMs={scene.toMs} x={x} widthPx={widthPx} y={plotPx} topY={0} />
          <Areas plot={plot} band={band} />
          <Lines plot={plot} />
          <Flags flags={flags} topY={band === null ? -4 : -bandRowPx - 4} footY={plotPx} />
          {band === null ? null : <BandDimension plot={plot} band={band} />}
          {band === null ? null : <BandWords plot={plot} band={band} />}
          <AskedPoint plot={plot} />
        </At>
      </g>
    ),
  };
}

interface Band {
  readonly fromMs: number;
  /** Its end, or that of the picture. */
  readonly toMs: number;
}

/** From quiet to sure: in it the moment of the opening decides. */
export function bandOf({ bounds, toMs }: DetectionScene): Band | null {
  const { neverAlarmedUpToMs: quiet, alwaysReportedFromMs } = bounds;
  if (quiet === null) return null;
  return { fromMs: quiet, toMs: Math.min(toMs, alwaysReportedFromMs.atRest ?? toMs) };
}

function flagsOf(scene: DetectionScene): readonly Flag[] {
  const { bounds, watchFile, toMs } = scene;
  const { leaveOpenAfterMs, quietUpToMs } = watchFile.judge;
  const { atRest, anyState } = bounds.alwaysReportedFromMs;
  const reported = reportedAtLeaveOpen(scene);
  const flags: Flag[] = [
    {
      ms: leaveOpenAfterMs,
      words: `left open from ${durationText(leaveOpenAfterMs)} (reported: ${reported.words})`,
      look: reported.sure ? 'strong' : 'missed',
    },
  ];
  if (quietUpToMs !== null) {
    const words = `quiet required up to ${durationText(quietUpToMs)}`;
    flags.push({ ms: quietUpToMs, words, look: 'soft' });
  }
  if (anyState !== null && anyState !== atRest && anyState <= toMs) {
    const words = `from any state sure from ${roundedDurationText(anyState, 'at most')}`;
    flags.push({ ms: anyState, words, look: 'soft' });
  }
  return flags;
}

/** What a pointer on the grey band tells. */
function bandTitle({ scene }: Plot, band: Band): string {
  const sure = scene.bounds.alwaysReportedFromMs.atRest;
  if (sure === null)
    return `From ${durationText(band.fromMs)} on an alert is possible, and never sure`;
  const decides = isCalm(scene) ? 'when it starts' : 'when it starts and on what goes wrong';
  return `An opening between ${durationText(band.fromMs)} and ${durationText(sure)}: whether it is reported depends on ${decides}`;
}

function GreyBand({ plot, band }: { readonly plot: Plot; readonly band: Band }): VNode {
  const { x } = plot;
  const left = x(band.fromMs);
  return (
    <Bar
      x={left}
      y={0}
      width={x(band.toMs) - left}
      height={plotPx}
      class="dw-grey-band"
      title={bandTitle(plot, band)}
    />
  );
}

function BandDimension({ plot, band }: { readonly plot: Plot; readonly band: Band }): VNode {
  const { scene, widthPx, x } = plot;
  const sure = scene.bounds.alwaysReportedFromMs.atRest;
  const goesOn = sure === null || sure > scene.toMs;
  const words =
    sure === null
      ? 'grey band without end'
      : goesOn
        ? `grey band, up to ${roundedDurationText(sure, 'at most')}`
        : `grey band ${roundedDurationText(sure - band.fromMs)}`;
  return (
    <Dimension
      x1={x(band.fromMs)}
      x2={x(band.toMs)}
      y={-bandRowPx / 2 - 2}
      footY={0}
      words={words}
      title={bandTitle(plot, band)}
      minX={0}
      maxX={widthPx}
      strong={false}
      goesOn={goesOn}
    />
  );
}

/** Where the curve is at 100 % and faults can still keep an opening from being reported. */
function BandWords({ plot, band }: { readonly plot: Plot; readonly band: Band }): VNode | null {
  const { scene, x, y } = plot;
  const certain = reachedAt(scene.bounds.detectionCurve, 1);
  if (isCalm(scene) || certain === null || certain >= band.toMs) return null;
  const words = ['Not sure here: a fault can keep', 'the alert from being delivered.'];
  const left = x(certain);
  const room = x(band.toMs) - left - 24;
  const font = { sizePx: 11 };
  if (words.some((line) => textWidth(line, font) > room)) return null;
  return (
    <g>
      {words.map((line, index) => (
        <Words
          x={left + (x(band.toMs) - left) / 2}
          y={y(0.5) + index * 15}
          anchor="middle"
          class="dw-soft"
        >
          {line}
        </Words>
      ))}
    </g>
  );
}

/** What lies on the wrong side of the curve, and what lies on the right one. */
function Areas({ plot, band }: { readonly plot: Plot; readonly band: Band | null }): VNode {
  const { scene } = plot;
  const { detectionCurve, detectionCurveMost } = scene.bounds;
  const leaveOpenMs = scene.watchFile.judge.leaveOpenAfterMs;
  const reported = pieceOf(detectionCurve, leaveOpenMs, scene.toMs);
  // With faults the curve promises nothing before the end of the grey band.
  const sureMs = isCalm(scene) ? leaveOpenMs : Math.max(leaveOpenMs, band?.toMs ?? leaveOpenMs);
  const alarmed = pieceOf(detectionCurveMost ?? detectionCurve, 0, leaveOpenMs);
  const lacking = reported.some(({ share }) => share < 1);
  const alarming = alarmed.some(({ share }) => share > 0);
  const from = durationText(leaveOpenMs);
  return (
    <g>
      {sureMs < scene.toMs ? (
        <Shape
          class="dw-told"
          d={area(plot, pieceOf(detectionCurve, sureMs, scene.toMs), 0)}
          title="Leave-opens that are reported"
        />
      ) : null}
      {lacking ? (
        <Shape
          class="dw-missed"
          d={area(plot, reported, 1)}
          title={`Leave-opens that are missed: ${from} or longer, and no alert`}
        />
      ) : null}
      {alarming ? (
        <Shape
          class="dw-false-share"
          d={area(plot, alarmed, 0)}
          title={`False alarms: shorter than ${from}, and an alert all the same`}
        />
      ) : null}
    </g>
  );
}

/** Between a piece of a curve and a level, 0 or 1. */
function area({ x, y }: Plot, piece: readonly CurvePoint[], level: number): string {
  const [first] = piece;
  const last = piece.at(-1);
  if (first === undefined || last === undefined) return '';
  return `M${px(x(first.ms))} ${px(y(level))}${lineTo({ x, y }, piece)}L${px(x(last.ms))} ${px(y(level))}Z`;
}

function lineTo({ x, y }: Pick<Plot, 'x' | 'y'>, piece: readonly CurvePoint[]): string {
  return piece.map(({ ms, share }) => `L${px(x(ms))} ${px(y(share))}`).join('');
}

function Lines({ plot }: { readonly plot: Plot }): VNode {
  const { scene } = plot;
  const { detectionCurve, detectionCurveMost } = scene.bounds;
  const ghost = isSameCurve(scene.ghost, detectionCurve) ? undefined : scene.ghost;
  const path = (curve: typeof detectionCurve): string =>
    lineTo(plot, pieceOf(curve, 0, scene.toMs)).replace(/^L/u, 'M');
  return (
    <g>
      {ghost === undefined ? null : (
        <Shape class="dw-curve-ghost" d={path(ghost)} title="Before the last change" />
      )}
      {detectionCurveMost === null ? null : (
        <Shape class="dw-curve-most" d={path(detectionCurveMost)} title="At most" />
      )}
      <Shape
        class="dw-curve"
        d={path(detectionCurve)}
        title={detectionCurveMost === null ? 'Chance of an alert' : 'At least'}
      />
    </g>
  );
}

export function isSameCurve(a: Curve | undefined, b: Curve): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** The curve at the length that the owner asks about. */
function AskedPoint({ plot }: { readonly plot: Plot }): VNode {
  const { scene, x, y } = plot;
  const ms = scene.watchFile.judge.leaveOpenAfterMs;
  const share = valueAt(scene.bounds.detectionCurve, ms);
  return (
    <Shape
      class={share < 1 ? 'dw-asked-missed' : 'dw-asked-told'}
      d={circle(x(ms), y(share), 5)}
      title={`Of openings of ${durationText(ms)}, ${percentText(share, 'down')} lead to an alert`}
    />
  );
}
