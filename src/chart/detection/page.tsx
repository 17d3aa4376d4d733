// The whole page: what you can rely on in figures, its detection curve, and the detection latencies.
import type { VNode } from 'preact';
import { durationText, roundedDurationText, type Said } from '../../base/index.js';
import { valueAt } from '../../bounds/index.js';
import { lengthBarIn } from '../../wording/index.js';
import { combOf } from '../comb/comb.js';
import { combPanel } from '../comb/comb-panel.js';
import { Bar, type Block, Shape } from '../drawing.js';
import type { Figure } from '../page/figures.js';
import { headOf } from '../page/head.js';
import { watchWords } from '../page/heading.js';
import { type LegendEntry, legendOf } from '../page/legend.js';
import { lengthBarBlock } from '../page/length-bar.js';
import { innerPx, lineOf, Sheet } from '../page/sheet.js';
import { cutText, fileNameOf } from '../text.js';
import type { Theme } from '../theme.js';
import { bandOf, curvePanel, isSameCurve } from './curve-panel.js';
import { delayPanel } from './delay-panel.js';
import type { DetectionScene } from './scene.js';
import { describe, isCalm, reportedAtLeaveOpen } from './words.js';

export interface DetectionPageSettings {
  readonly title: string;
  readonly theme: Theme;
  readonly widthPx: number;
  readonly bare: boolean;
}

export function DetectionPage({
  scene,
  settings,
}: {
  readonly scene: DetectionScene;
  readonly settings: DetectionPageSettings;
}): VNode {
  const { title, theme, widthPx, bare } = settings;
  const fullPx = innerPx(widthPx, bare);
  const subtitles = [
    watchWords(scene.watchFile),
    `Exact, not sampled: an opening that meets the device at rest, any instant as likely as any other${
      isCalm(scene) ? '' : '. Figures and grey band at worst; the curves, when nothing goes wrong'
    }`,
  ];
  const comb = bare ? null : combOf(scene.watchFile);
  // A page has the bar at its top already.
  const bar = bare ? null : lengthBarIn(scene.bounds, scene.watchFile);
  const blocks: Block[] = [
    ...(bare ? [] : [headOf({ title, subtitles, figures: figuresOf(scene) }, fullPx)]),
    ...(bar === null ? [] : [lengthBarBlock(bar, fullPx)]),
    ...(comb === null ? [] : [combPanel(comb, fullPx)]),
    curvePanel(scene, fullPx),
    delayPanel(scene, fullPx),
    legendOf(legendEntries(scene), fullPx),
    ...(bare
      ? []
      : [lineOf(cutText(`dozewatch · ${fileNameOf(scene.file)}`, fullPx, { sizePx: 11 }))]),
  ];
  return (
    <Sheet
      title={title}
      description={describe(scene)}
      theme={theme}
      widthPx={widthPx}
      blocks={blocks}
      bare={bare}
    />
  );
}

function figuresOf(scene: DetectionScene): readonly Figure[] {
  const { bounds, watchFile } = scene;
  const { leaveOpenAfterMs, reportWithinMs } = watchFile.judge;
  const { alwaysReportedFromMs, neverAlarmedUpToMs, worstDelayMs, bestDelayMs } = bounds;
  const reported = reportedAtLeaveOpen(scene);
  const worst = worstDelayMs.atRest;
  const late = reportWithinMs !== null && (worst === null || worst > reportWithinMs);
  const plain = (name: string, value: string): Figure => ({
    name,
    value,
    alarm: null,
    late: false,
    share: 1,
  });
  const time = (ms: number | null, said: Said, none: string): string =>
    ms === null ? none : roundedDurationText(ms, said);
  return [
    {
      ...plain(
        `reported, at ${durationText(leaveOpenAfterMs)} open`,
        reported.words.replace(/^at least /u, '≥ '),
      ),
      alarm: reported.sure ? null : 'missed',
    },
    plain('sure from', time(alwaysReportedFromMs.atRest, 'at most', 'never')),
    plain('quiet up to', time(neverAlarmedUpToMs, 'at least', 'any length')),
    plain('best latency', time(bestDelayMs, 'at least', '–')),
    { ...plain('worst latency', time(worst, 'at most', 'no limit')), late },
  ];
}

/** What appears in the picture, and nothing else. */
function legendEntries(scene: DetectionScene): readonly LegendEntry[] {
  const { bounds, watchFile, toMs } = scene;
  const { detectionCurve, detectionCurveMost } = bounds;
  const leaveOpenMs = watchFile.judge.leaveOpenAfterMs;
  const band = bandOf(scene);
  const missed = valueAt(detectionCurve, leaveOpenMs) < 1;
  const alarmed = valueAt(detectionCurveMost ?? detectionCurve, leaveOpenMs) > 0;
  const patch = (kind: string): VNode => (
    <Bar x={0} y={2} width={22} height={11} class={`dw-${kind}`} />
  );
  const line = (kind: string): VNode => <Shape class={`dw-${kind}`} d="M0 8H22" />;
  const entries: (LegendEntry | null)[] = [
    { words: detectionCurveMost === null ? 'chance' : 'at least', sample: line('curve') },
    detectionCurveMost === null ? null : { words: 'at most', sample: line('curve-most') },
    scene.ghost === undefined || isSameCurve(scene.ghost, detectionCurve)
      ? null
      : { words: 'before the last change', sample: line('curve-ghost') },
    valueAt(detectionCurve, toMs) > 0 && (isCalm(scene) || band === null || band.toMs < toMs)
      ? { words: 'leave-opens reported', sample: patch('told') }
      : null,
    missed ? { words: 'leave-opens missed', sample: patch('missed') } : null,
    alarmed ? { words: 'brief openings: false alarms', sample: patch('false-share') } : null,
    band === null
      ? null
      : {
          words: 'grey band: reported or not, depending on when it starts',
          sample: patch('grey-band'),
        },
  ];
  return entries.filter((entry) => entry !== null);
}
