// From the settings that nothing beats to the text of a picture: worst delay against life, with what they cost in
// false alarms.
import { durationText, roundedDurationText } from '../base/index.js';
import { lifeText } from '../battery/index.js';
import type { Trial, TuneAnswer, TuneRequirements } from '../tune/index.js';
import { failuresOf } from '../wording/index.js';
import { countText } from './numbers.js';
import type { Figure } from './page/figures.js';
import { headOf, type Note } from './page/head.js';
import { legendOf } from './page/legend.js';
import { documentText, innerPx, lineOf, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { cutText, fileNameOf } from './text.js';
import { type PictureTheme, themes } from './theme.js';
import { frontPanel, frontSamples } from './tune/front-panel.js';
import { threadSamples, threadsPanel } from './tune/threads-panel.js';

export interface TuneInput {
  readonly answer: TuneAnswer;
  readonly requirements: TuneRequirements;
  /** The watch file as its owner named it. */
  readonly file: string;
}

export interface TuneChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
  /** For a page that says around it what it is: no title, no figures, no file name. */
  readonly bare?: boolean | undefined;
}

/** Draws a front as a whole SVG document, the same bytes every time. */
export function tuneChart(
  input: TuneInput & { readonly options?: TuneChartOptions | undefined },
): string {
  const { answer, requirements, file, options = {} } = input;
  const widthPx = sheetWidthPx(options.widthPx ?? usualWidthPx, options.bare);
  const bare = options.bare === true;
  const fullPx = innerPx(widthPx, bare);
  const title = `Settings worth choosing between, for ${fileNameOf(file)}`;
  const what =
    answer.pool === 'meeting' ? 'they meet every requirement' : 'none meets every requirement';
  const subtitle = `No setting tried beats any of these in worst latency, sure from, life, missed, late and false alarms together; ${what}`;
  const threads = threadsPanel(answer, requirements, fullPx);
  const panel = frontPanel(answer, requirements, fullPx);
  const blocks = [
    ...(bare
      ? []
      : [
          headOf(
            { title, subtitles: [subtitle], figures: figuresOf(answer), note: noteOf(answer) },
            fullPx,
          ),
        ]),
    ...(threads === null ? [] : [threads, legendOf(threadSamples(answer), fullPx)]),
    panel ?? lineOf('None of them has a bound and a life that can be drawn.'),
    legendOf(frontSamples(answer), fullPx),
    ...(bare ? [] : [lineOf(cutText(`dozewatch · ${fileNameOf(file)}`, fullPx, { sizePx: 11 }))]),
  ];
  return documentText(
    <Sheet
      title={title}
      description={describe(answer)}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={bare}
    />,
  );
}

/** What cannot be met, and how far the settings come that meet all else. */
function noteOf(answer: TuneAnswer): Note | null {
  const lines = failuresOf(answer);
  return lines.length === 0 ? null : { words: `${lines.join('. ')}.`, standing: 'bad' };
}

function describe({ front, recommended }: TuneAnswer): string {
  const many = `${countText(front.length)} settings that no others beat.`;
  if (recommended === null) return `${many} None meets every requirement.`;
  const { settings, proved, years } = recommended;
  const latency = Number.isFinite(proved.worstDelayMs)
    ? `reported within ${roundedDurationText(proved.worstDelayMs, 'at most')}`
    : 'with no bound on the detection latency';
  return `${many} Recommended is a check every ${durationText(settings.checkIntervalMs)}: ${latency}, ${lifeOf(years)} on a charge.`;
}

function lifeOf({ lifeMs }: Trial['years']): string {
  return lifeText(Number.isFinite(lifeMs) ? lifeMs : null);
}

function figuresOf({ recommended }: TuneAnswer): readonly Figure[] {
  const figure = (name: string, value: string): Figure => ({
    name,
    value,
    alarm: null,
    late: false,
    share: 1,
  });
  if (recommended === null) return [figure('recommended', 'nothing: see what to relax')];
  const { settings, proved, years } = recommended;
  const { checkIntervalMs, escalationThreshold } = settings;
  const { open, outOf } = escalationThreshold;
  const at = open === outOf ? String(open) : `${String(open)} of ${String(outOf)}`;
  const delay = Number.isFinite(proved.worstDelayMs)
    ? roundedDurationText(proved.worstDelayMs, 'at most')
    : 'no bound';
  return [
    figure('recommended', `every ${durationText(checkIntervalMs)}, alert at ${at}`),
    figure('worst latency', delay),
    figure('the battery lasts', lifeOf(years)),
  ];
}
