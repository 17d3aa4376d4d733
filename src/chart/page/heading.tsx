// The head of a picture: what it is of, in which zone, watched how; and the verdict in six figures.
import type { VNode } from 'preact';
import { durationText } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { clockText, dateText, dayAt, wallAt } from '../calendar.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { cross, diamond } from '../glyphs.js';
import { counted, countText } from '../numbers.js';
import type { Scene } from '../scene.js';
import { cutText, printable, textWidth, wrapText } from '../text.js';
import { figureDuration } from '../words.js';

const titleFont = { sizePx: 22, bold: true };
const titleLinePx = 28;
const subtitleFont = { sizePx: 12 };

export function heading(scene: Scene, title: string, widthPx: number): Block {
  const lines = wrapText(title, widthPx, { font: titleFont, mostLines: 2 });
  const subtitles = [placeWords(scene), watchWords(scene.watchFile)].flatMap((words) =>
    wrapText(words, widthPx, { font: subtitleFont, mostLines: 2 }),
  );
  const subtitleY = lines.length * titleLinePx + 14;
  const figuresY = subtitleY + subtitles.length * 17 + 6;
  return {
    height: figuresY + figuresPx,
    node: (
      <g>
        {lines.map((line, index) => (
          <Words x={0} y={20 + index * titleLinePx} size={titleFont.sizePx} class="dw-bold">
            {line}
          </Words>
        ))}
        {subtitles.map((line, index) => (
          <Words x={0} y={subtitleY + index * 17} size={subtitleFont.sizePx} class="dw-soft">
            {line.replace(/^· /u, '')}
          </Words>
        ))}
        <At y={figuresY}>
          <Figures scene={scene} widthPx={widthPx} />
        </At>
      </g>
    ),
  };
}

/** From when to when, in which zone. */
export function placeWords({ calendar, lengthMs }: Scene): string {
  const grain = lengthMs < 3_600_000 ? 'second' : 'minute';
  const from = wallAt(calendar, 0);
  const to = wallAt(calendar, lengthMs);
  const until =
    to.day === from.day
      ? clockText(to.wallMs, grain)
      : `${dateText(dayAt(calendar, lengthMs))} ${clockText(to.wallMs, grain)}`;
  const start = `${dateText(from.day)} ${clockText(from.wallMs, grain)}`;
  return `${start} to ${until} (${durationText(lengthMs)}) · ${calendar.zoneText}`;
}

function watchWords({ watch, judge }: WatchFile): string {
  const { open, outOf } = watch.escalationThreshold;
  const threshold = open === outOf ? `${open} open in a row` : `${open} open of the last ${outOf}`;
  const cooldown =
    watch.afterAlert === 'hold-until-reset'
      ? 'then waits for a reset'
      : `cooldown ${durationText(watch.alertCooldownMs)}`;
  const within =
    judge.reportWithinMs === null
      ? ''
      : ` · to be told within ${durationText(judge.reportWithinMs)}`;
  const check = `check every ${durationText(watch.checkIntervalMs)}`;
  const leaveOpen = `left open from ${durationText(judge.leaveOpenAfterMs)}`;
  return `${check} · alert at ${threshold} · ${cooldown} · ${leaveOpen}${within}`;
}

interface Figure {
  readonly name: string;
  readonly value: string;
  readonly alarm: 'missed' | 'false' | null;
  readonly late: boolean;
  readonly share: number;
}

const figuresPx = 54;

function figuresOf({ verdict }: Scene): Figure[] {
  const { leaveOpens, reported, late, undecided, missed, falseAlarms, worstDelayMs } =
    verdict.summary;
  const plain = (name: string, count: number): Figure => ({
    name,
    value: countText(count),
    alarm: null,
    late: false,
    share: 1,
  });
  return [
    plain('leave-opens', leaveOpens),
    plain('reported', reported),
    { ...plain('late', late), late: late > 0 },
    ...(undecided > 0 ? [plain('undecided', undecided)] : []),
    { ...plain('missed', missed), alarm: missed > 0 ? 'missed' : null },
    {
      ...plain(falseAlarms === 1 ? 'false alarm' : 'false alarms', falseAlarms),
      alarm: falseAlarms > 0 ? 'false' : null,
    },
    {
      ...plain('worst detection latency', 0),
      value: worstDelayMs === null ? '–' : figureDuration(worstDelayMs),
      share: 2,
    },
  ];
}

function Figures({ scene, widthPx }: { readonly scene: Scene; readonly widthPx: number }): VNode {
  const figures = figuresOf(scene);
  const shares = figures.reduce((sum, { share }) => sum + share, 0);
  let x = 0;
  return (
    <g>
      <Shape class="dw-rule" d={`M0 .5H${widthPx}M0 ${figuresPx - 0.5}H${widthPx}`} />
      {figures.map((figure, index) => {
        const width = (widthPx * figure.share) / shares;
        const at = x;
        x += width;
        return (
          <At x={at} y={0}>
            {index === 0 ? null : <Shape class="dw-rule" d={`M0 8V${figuresPx - 8}`} />}
            <FigureCell figure={figure} widthPx={width} indent={index === 0 ? 0 : 12} />
          </At>
        );
      })}
    </g>
  );
}

function FigureCell({
  figure,
  widthPx,
  indent,
}: {
  readonly figure: Figure;
  readonly widthPx: number;
  readonly indent: number;
}): VNode {
  const { name, value, alarm, late } = figure;
  const size = textWidth(value, { sizePx: 22, bold: true }) > widthPx - indent ? 14 : 22;
  const label = cutText(name, widthPx - indent - 4, { sizePx: 11 });
  if (alarm === null) {
    const words = late ? ' dw-t-late' : '';
    return (
      <g>
        <Words x={indent} y={19} class={late ? 'dw-t-late' : 'dw-soft'}>
          {label}
        </Words>
        <Words x={indent} y={44} size={size} class={`dw-bold${words}`}>
          {value}
        </Words>
      </g>
    );
  }
  const glyph = alarm === 'missed' ? cross : diamond;
  return (
    <g>
      <Bar x={1} y={4} width={widthPx - 4} height={figuresPx - 8} class={`dw-fill-${alarm}`} />
      <Shape class="dw-badge-glyph" d={glyph(widthPx - 18, figuresPx / 2, 8)} />
      <Words x={indent} y={19} class="dw-on-badge">
        {label}
      </Words>
      <Words x={indent} y={44} size={size} class="dw-bold dw-on-badge">
        {value}
      </Words>
    </g>
  );
}

/** The picture's name for people who hear it. */
export function titleWords(scene: Scene, title: string | undefined): string {
  const given = printable(title ?? scene.timeline.name);
  return given === '' ? counted(scene.verdict.summary.openings, 'door opening') : given;
}
