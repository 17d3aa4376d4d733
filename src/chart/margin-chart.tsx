// How warm the space gets while the door stands open: temperature against time, with the limit, the latest alert, and when
// somebody has shut the door.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import { durationText, greatestOf, leastOf, roundedDurationText, sentence } from '../base/index.js';
import { celsiusAfter, type Limit, type Margin, type Space } from '../margin/index.js';
import { marginSpanText } from '../wording/index.js';
import { DurationAxis, ShareAxis, sideWordsPx } from './detection/axes.js';
import { type Flag, Flags, flagRowPx, flagRows, placeFlags } from './detection/flags.js';
import { At, Bar, type Block, Shape, type TimeScale, Words } from './drawing.js';
import { circle } from './glyphs.js';
import { px } from './numbers.js';
import type { Figure } from './page/figures.js';
import { headOf, type Note } from './page/head.js';
import { type LegendEntry, legendOf } from './page/legend.js';
import { panelTitle } from './page/panel-title.js';
import { documentText, innerPx, lineOf, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { Dimension } from './strip/dimension.js';
import { textWidth } from './text.js';
import { type PictureTheme, themes } from './theme.js';

export interface MarginInput extends Space {
  readonly limit: Limit;
  readonly worstDelayMs: number;
  /** How the space warms, one curve each: at least one, at most two. */
  readonly cases: readonly { readonly name: string; readonly margin: Margin }[];
}

export interface MarginChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
}

/** Draws a margin as a whole SVG document, the same bytes every time. */
export function marginChart(
  input: MarginInput & { readonly options?: MarginChartOptions | undefined },
): string {
  const { options = {}, startCelsius, outsideCelsius, limit } = input;
  const widthPx = sheetWidthPx(options.widthPx ?? usualWidthPx);
  const fullPx = innerPx(widthPx, false);
  const title = `Whether somebody comes before it is ${celsiusText(limit.celsius)}`;
  const subtitle = `${celsiusText(startCelsius)} when the door opens, ${celsiusText(outsideCelsius)} outside · one time constant for the whole space: goods lag behind the air`;
  const note = noteOf(input);
  const blocks = [
    headOf({ title, subtitles: [subtitle], figures: figuresOf(input), note }, fullPx),
    warmthPanel(input, fullPx),
    legendOf(samplesOf(input), fullPx),
    lineOf('dozewatch margin'),
  ];
  return documentText(
    <Sheet
      title={title}
      description={note.words}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={false}
    />,
  );
}

/** `−17.6 °C` */
function celsiusText(celsius: number): string {
  return `${String(Number(celsius.toFixed(1))).replace('-', '−')} °C`;
}

function sentenceOf({ name, margin }: MarginInput['cases'][number], { limit }: Limited): string {
  const { toLimitMs, leftMs } = margin;
  const at = celsiusText(limit.celsius);
  if (toLimitMs === null || leftMs === null) return `${name}: ${at} is never reached.`;
  if (toLimitMs === 0) return `${name}: it is at ${at} already when the door opens.`;
  return leftMs >= 0
    ? `${name}: somebody comes ${marginSpanText(leftMs, 'at least')} before it is at ${at}.`
    : `${name}: somebody comes ${marginSpanText(-leftMs, 'at most')} TOO LATE.`;
}

type Limited = Pick<MarginInput, 'limit'>;

function noteOf(input: MarginInput): Note {
  const isGood = input.cases.every(({ margin: { leftMs } }) => leftMs === null || leftMs >= 0);
  return {
    words: input.cases.map((one) => sentence(sentenceOf(one, input))).join(' '),
    standing: isGood ? 'good' : 'bad',
  };
}

function figuresOf({ worstDelayMs, cases }: MarginInput): readonly Figure[] {
  const figure = (name: string, value: string, alarm: Figure['alarm'] = null): Figure => ({
    name,
    value,
    alarm,
    late: false,
    share: 1,
  });
  const left = leastLeft(cases)?.leftMs ?? null;
  const reached = cases.map(({ margin }) => margin.toLimitMs).filter((ms) => ms !== null);
  return [
    left === null
      ? figure('time to spare', 'unlimited')
      : left >= 0
        ? figure('time to spare', marginSpanText(left, 'at least'))
        : figure('too late by', marginSpanText(-left, 'at most'), 'missed'),
    figure(
      'at the limit after',
      reached.length === 0 ? 'never' : marginSpanText(leastOf(reached), 'at least'),
    ),
    figure('alert at the latest after', roundedDurationText(worstDelayMs, 'at most')),
    figure('door shut after', marginSpanText(shutAfterMsOf(cases), 'at most')),
  ];
}

/** The case in which the door is shut the latest for its limit; null: none comes to it. */
function leastLeft(cases: MarginInput['cases']): Crossing | null {
  const crossings = cases.flatMap(({ margin: { toLimitMs, leftMs } }): Crossing[] =>
    toLimitMs === null || leftMs === null ? [] : [{ toLimitMs, leftMs }],
  );
  return crossings.reduce<Crossing | null>(
    (least, one) => (least === null || one.leftMs < least.leftMs ? one : least),
    null,
  );
}

interface Crossing {
  readonly toLimitMs: number;
  readonly leftMs: number;
}

const plotPx = 280;
const axisPx = 22;
const steps = 120;
/** Where the limit is reached much later than somebody comes, no more than this many times as much is drawn. */
const mostTimes = 8;

/** The same in all cases: it hangs on the alert and on people, not on how the space warms. */
function shutAfterMsOf(cases: MarginInput['cases']): number {
  return greatestOf(cases.map(({ margin }) => margin.shutAfterMs));
}

function lengthOf({ cases }: MarginInput): number {
  const shutMs = Math.max(60_000, shutAfterMsOf(cases));
  const reached = cases.map(({ margin }) => margin.toLimitMs ?? 0);
  return 1.15 * Math.max(1.5 * shutMs, Math.min(greatestOf(reached), mostTimes * shutMs));
}

function warmthPanel(input: MarginInput, fullPx: number): Block {
  const { limit, startCelsius, cases } = input;
  const widthPx = fullPx - sideWordsPx;
  const toMs = lengthOf(input);
  const x = scaleLinear([0, toMs], [0, widthPx]);
  const ends = cases.map(({ margin }) => celsiusAfter(input, margin.tauMs, toMs));
  const all = [startCelsius, limit.celsius, ...ends];
  const spread = Math.max(1, greatestOf(all) - leastOf(all));
  const y = scaleLinear(
    [leastOf(all) - 0.08 * spread, greatestOf(all) + 0.12 * spread],
    [plotPx, 0],
  ).nice(5);
  const ticks = y.ticks(5).map((celsius) => ({ y: y(celsius), words: celsiusText(celsius) }));
  const shutMs = shutAfterMsOf(cases);
  const flags = placeFlags(flagsOf(input, toMs), x, widthPx);
  const title = panelTitle('Temperature inside, by how long the door has been open', fullPx);
  const topY = title.height + flagRows(flags) * flagRowPx + 6;
  const curves = cases.map(
    ({ margin }) =>
      (atPx: number) =>
        y(celsiusAfter(input, margin.tauMs, x.invert(atPx))),
  );
  const limitWords = limitWordsAt(input, { curves, flags, limitY: y(limit.celsius), widthPx });
  return {
    height: topY + plotPx + axisPx,
    node: (
      <g>
        {title.node}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          <DurationAxis toMs={toMs} x={x} widthPx={widthPx} y={plotPx} topY={0} />
          <Shape class="dw-asked-line" d={`M0 ${px(y(limit.celsius))}H${px(widthPx)}`} />
          <Flags flags={flags} topY={-4} footY={plotPx} />
          <Words {...limitWords} class="dw-bold dw-halo">
            {limitText(limit)}
          </Words>
          {cases.map(({ margin: { tauMs } }, index) => (
            <g>
              <Shape
                class="dw-curve-ghost"
                d={curveOf((ms) => y(celsiusAfter(input, tauMs, ms)), x, [shutMs, toMs])}
                title="If nobody came"
              />
              <Shape
                class={index === 0 ? 'dw-curve' : 'dw-curve-most'}
                d={curveOf((ms) => y(celsiusAfter(input, tauMs, ms)), x, [0, shutMs])}
              />
            </g>
          ))}
          <Left cases={cases} shutMs={shutMs} x={x} widthPx={widthPx} />
          {cases.map((one) => (
            <Then of={one} limit={limit} shutMs={shutMs} x={x} y={y} />
          ))}
        </At>
      </g>
    ),
  };
}

function limitText({ celsius }: Limit): string {
  return `limit ${celsiusText(celsius)}`;
}

/** On the side of the limit from which no curve comes, the first place that no line strikes. */
function limitWordsAt(
  { limit }: Limited,
  plot: {
    readonly curves: readonly ((atPx: number) => number)[];
    readonly flags: readonly { readonly x: number }[];
    readonly limitY: number;
    readonly widthPx: number;
  },
): { readonly x: number; readonly y: number } {
  const { curves, flags, limitY, widthPx } = plot;
  const wordsPx = textWidth(limitText(limit), { sizePx: 11, bold: true });
  const y = limitY + (limit.passed === 'rising' ? -6 : 15);
  const [topY, footY] = [y - 13, y + 4];
  const isFree = (left: number): boolean =>
    flags.every((flag) => flag.x < left - 4 || flag.x > left + wordsPx + 4) &&
    curves.every((curve) => {
      const [from, to] = [curve(left - 4), curve(left + wordsPx + 4)];
      return Math.max(from, to) < topY || Math.min(from, to) > footY;
    });
  for (let left = 6; left + wordsPx + 6 <= widthPx; left += 6)
    if (isFree(left)) return { x: left, y };
  return { x: 6, y };
}

/** Words under a point, or over it where they would stand on the line of the limit. */
function besideLine(pointY: number, lineY: number): number {
  const under = pointY + 14;
  return lineY > under - 12 && lineY < under + 4 ? pointY - 8 : under;
}

/** Rounded towards the side on which the limit is passed. */
function worstText(celsius: number, { passed }: Limit): string {
  const tenths = Number((celsius * 10).toFixed(6));
  return celsiusText((passed === 'rising' ? Math.ceil(tenths) : Math.floor(tenths)) / 10);
}

/** How warm it is when somebody has shut the door. */
function Then(props: {
  readonly of: MarginInput['cases'][number];
  readonly limit: Limit;
  readonly shutMs: number;
  readonly x: TimeScale;
  readonly y: (celsius: number) => number;
}): VNode {
  const { of, limit, shutMs, x, y } = props;
  const { leftMs, celsiusThen } = of.margin;
  const isLate = leftMs !== null && leftMs < 0;
  return (
    <g>
      <Shape
        class={isLate ? 'dw-asked-missed' : 'dw-asked-told'}
        d={circle(x(shutMs), y(celsiusThen), 5)}
        title={`${of.name}: ${celsiusText(celsiusThen)} after ${durationText(shutMs)}`}
      />
      <Words x={x(shutMs) + 10} y={besideLine(y(celsiusThen), y(limit.celsius))} class="dw-halo">
        {worstText(celsiusThen, limit)} then
      </Words>
    </g>
  );
}

/** Between the limit and the person: the time that is left, or lacks. */
function Left(props: {
  readonly cases: MarginInput['cases'];
  readonly shutMs: number;
  readonly x: TimeScale;
  readonly widthPx: number;
}): VNode | null {
  const { cases, shutMs, x, widthPx } = props;
  const worst = leastLeft(cases);
  if (worst === null || x(worst.toLimitMs) > widthPx) return null;
  const { toLimitMs, leftMs } = worst;
  const isLate = leftMs < 0;
  const words = isLate
    ? `${marginSpanText(-leftMs, 'at most')} too late`
    : `${marginSpanText(leftMs, 'at least')} to spare`;
  return (
    <Dimension
      x1={x(Math.min(toLimitMs, shutMs))}
      x2={x(Math.max(toLimitMs, shutMs))}
      y={plotPx - 14}
      footY={plotPx}
      words={words}
      title={words}
      minX={0}
      maxX={widthPx}
      strong
      class={isLate ? 'dw-t-missed' : 'dw-t-reported'}
    />
  );
}

function curveOf(
  yAt: (ms: number) => number,
  x: (ms: number) => number,
  [fromMs, toMs]: readonly [number, number],
): string {
  return Array.from({ length: steps + 1 }, (_, step) => {
    const ms = fromMs + (step * (toMs - fromMs)) / steps;
    return `${step === 0 ? 'M' : 'L'}${px(x(ms))} ${px(yAt(ms))}`;
  }).join('');
}

function flagsOf({ worstDelayMs, cases, limit }: MarginInput, toMs: number): readonly Flag[] {
  const shutMs = shutAfterMsOf(cases);
  const isLate = cases.some(({ margin: { leftMs } }) => leftMs !== null && leftMs < 0);
  const reached = cases.flatMap(({ name, margin: { toLimitMs } }): Flag[] =>
    toLimitMs === null || toLimitMs === 0 || toLimitMs > toMs
      ? []
      : [
          {
            ms: toLimitMs,
            words: `${cases.length > 1 ? `${name}: ` : ''}${celsiusText(limit.celsius)} after ${marginSpanText(toLimitMs, 'at least')}`,
            look: 'soft',
          },
        ],
  );
  return [
    {
      ms: worstDelayMs,
      words: `alert after ${roundedDurationText(worstDelayMs, 'at most')}`,
      look: 'soft',
    },
    {
      ms: shutMs,
      words: `door shut after ${marginSpanText(shutMs, 'at most')}`,
      look: isLate ? 'missed' : 'strong',
    },
    ...reached,
  ];
}

function samplesOf({ cases }: MarginInput): readonly LegendEntry[] {
  return [
    ...cases.map(({ name }, index) => ({
      words: `${name}, until somebody shuts it`,
      sample: <Shape class={index === 0 ? 'dw-curve' : 'dw-curve-most'} d="M0 8H22" />,
    })),
    { words: 'if nobody came', sample: <Shape class="dw-curve-ghost" d="M0 8H22" /> },
  ];
}
