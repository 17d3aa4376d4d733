// How simulated years differ: of each kind of event, how many years had how many, with the mean and how sure it is.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import {
  counted,
  durationText,
  figure,
  greatestOf,
  leastOf,
  numberText,
  percentText,
} from '../base/index.js';
import type { Estimate, YearlyName, YearsByCount } from '../estimate/index.js';
import { knownText } from '../wording/index.js';
import { ShareAxis, sideWordsPx } from './detection/axes.js';
import { type Flag, Flags, flagRowPx, flagRows, placeFlags } from './detection/flags.js';
import { At, Bar, type Block, type TimeScale, Words } from './drawing.js';
import type { Figure } from './page/figures.js';
import { headOf, type Note } from './page/head.js';
import { panelTitle } from './page/panel-title.js';
import { documentText, innerPx, lineOf, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { fileNameOf, textWidth } from './text.js';
import { type PictureTheme, themes } from './theme.js';

export interface EstimateInput {
  readonly estimate: Estimate;
  readonly yearsByCount: Readonly<Record<YearlyName, YearsByCount>>;
  /** The watch file as its owner named it; null: the defaults. */
  readonly watch: string | null;
  readonly profile: string;
  /** Null: nothing is required of the latency, so that nothing is late. */
  readonly reportWithinMs: number | null;
}

export interface EstimateChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
}

const plotPx = 120;
const axisPx = 24;
const mostBars = 48;
/** Where all years had none, a few empty places say so. */
const fewestShown = 4;
/** Where even the best year had more than this share of the worst, the empty part from 0 on would take most of the width. */
const farFromNone = 0.4;

const panelWords: Readonly<Record<YearlyName, string>> = {
  missed: 'missed leave-opens',
  late: 'leave-opens reported late',
  falseAlarms: 'false alarms',
};
const figureWords: Readonly<Record<YearlyName, string>> = {
  missed: 'missed per year',
  late: 'late per year',
  falseAlarms: 'false alarms per year',
};
const alarms: Readonly<Record<YearlyName, Figure['alarm']>> = {
  missed: 'missed',
  late: null,
  falseAlarms: 'false',
};
const looks: Readonly<Record<YearlyName, string>> = {
  missed: 'dw-missed',
  late: 'dw-late',
  falseAlarms: 'dw-fill-false',
};

/** Draws an estimate as a whole SVG document, the same bytes every time. */
export function estimateChart(
  input: EstimateInput & { readonly options?: EstimateChartOptions | undefined },
): string {
  const { options = {}, estimate, watch, profile } = input;
  const widthPx = sheetWidthPx(options.widthPx ?? usualWidthPx);
  const fullPx = innerPx(widthPx, false);
  const name = watch === null ? 'the default watch' : fileNameOf(watch);
  const title = `How the years with ${name} differ`;
  const subtitle = `${counted(estimate.years, 'simulated year')} with the profile ${fileNameOf(profile)}`;
  const note = noteOf(input);
  const names = namesOf(input);
  const blocks = [
    headOf(
      { title, subtitles: [subtitle], figures: names.map((one) => figureOf(one, input)), note },
      fullPx,
    ),
    ...names.map((one) => yearsPanel(one, input, fullPx)),
    lineOf('dozewatch estimate'),
  ];
  return documentText(
    <Sheet
      title={title}
      description={`${subtitle}. ${note.words}`}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={false}
    />,
  );
}

function namesOf({ reportWithinMs }: EstimateInput): readonly YearlyName[] {
  return reportWithinMs === null ? ['missed', 'falseAlarms'] : ['missed', 'late', 'falseAlarms'];
}

function noteOf({ estimate, yearsByCount }: EstimateInput): Note {
  const { years } = estimate;
  const without = (name: YearlyName): string => {
    const none = yearsByCount[name].get(0) ?? 0;
    return none === years
      ? 'Every year'
      : none === 0
        ? 'No year'
        : percentText(none / years, 'down');
  };
  const [quiet, sure] = [without('falseAlarms'), without('missed')];
  const of = (share: string): string => (share.endsWith('%') ? `${share} of the years` : share);
  const { missed, falseAlarms } = estimate.rates;
  const standing = missed.count > 0 ? 'bad' : falseAlarms.count > 0 ? 'doubtful' : 'good';
  return {
    words: `${of(sure)} passed without a missed leave-open; ${of(quiet).replace(/^[EN]/u, (letter) => letter.toLowerCase())} without a false alarm.`,
    standing,
  };
}

function figureOf(name: YearlyName, { estimate }: EstimateInput): Figure {
  const rate = estimate.rates[name];
  const value = rate.count === 0 ? knownText(rate, figure) : figure(rate.perYear, 'up');
  const isSeen = rate.count > 0;
  return {
    name: figureWords[name],
    value,
    alarm: isSeen ? alarms[name] : null,
    late: isSeen && name === 'late',
    share: 1,
  };
}

interface Bin {
  readonly from: number;
  /** The last count that it holds. */
  readonly to: number;
  readonly years: number;
}

/** Bins of 1, 2, 5, 10 … counts, as few as a plot has room for: from 0, or from where the years begin if that is far from 0. */
export function binsOf(years: YearsByCount, mostBins = mostBars): readonly Bin[] {
  const greatest = greatestOf([fewestShown, ...years.keys()]);
  const least = leastOf([greatest, ...years.keys()]);
  const spread = greatest - least;
  // Years that hardly differ stand in the middle of some empty places, not in one block.
  const around = spread < fewestShown ? fewestShown : 0;
  const isFar = least > farFromNone * greatest;
  const first = isFar ? Math.max(0, least - Math.max(around, Math.ceil(spread / 10))) : 0;
  const most = isFar ? greatest + around : greatest;
  const length = most - first + 1;
  let width = 1;
  for (let power = 1; Math.ceil(length / width) > mostBins; power *= 10) {
    width =
      [2, 5, 10].map((times) => times * power).find((wide) => length / wide <= mostBins) ??
      10 * power;
  }
  const skipped = Math.floor(first / width);
  const bins = Array.from({ length: Math.floor(most / width) + 1 - skipped }, (_, index) => ({
    from: (skipped + index) * width,
    to: (skipped + index + 1) * width - 1,
    years: 0,
  }));
  for (const [count, many] of years) {
    const bin = bins[Math.floor(count / width) - skipped];
    if (bin !== undefined) bin.years += many;
  }
  return bins;
}

function yearsPanel(name: YearlyName, input: EstimateInput, fullPx: number): Block {
  const { estimate, yearsByCount, reportWithinMs } = input;
  const bins = binsOf(yearsByCount[name]);
  const widthPx = fullPx - sideWordsPx;
  const firstFrom = bins[0]?.from ?? 0;
  const lastTo = bins.at(-1)?.to ?? 0;
  // A year has whole counts: the bar of a count stands around it.
  const x = scaleLinear([firstFrom - 0.5, lastTo + 0.5], [0, widthPx]);
  const most = greatestOf(bins.map(({ years }) => years)) / estimate.years;
  const y = scaleLinear([0, most], [plotPx, 0]).nice(3);
  const ticks = y.ticks(3).map((share) => ({ y: y(share), words: percentText(share) }));
  const within =
    name === 'late' && reportWithinMs !== null
      ? ` (later than the required ${durationText(reportWithinMs)})`
      : '';
  const least = leastOf(yearsByCount[name].keys());
  const begins =
    firstFrom === 0 || estimate.years === 1 ? '' : `; every year had at least ${numberText(least)}`;
  const title = panelTitle(
    `Share of years, by how many ${panelWords[name]} they had${within}${begins}`,
    fullPx,
  );
  const rate = estimate.rates[name];
  const flags = placeFlags(flagsOf(name, input), x, widthPx);
  const topY = title.height + flagRows(flags) * flagRowPx + 8;
  const [low, high] = [
    x(Math.max(firstFrom - 0.5, rate.low)),
    x(Math.min(lastTo + 0.5, rate.high)),
  ];
  return {
    height: topY + plotPx + axisPx,
    node: (
      <g>
        {title.node}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          {bins.map((bin) => (
            <YearsBar bin={bin} all={estimate.years} look={looks[name]} x={x} y={y} />
          ))}
          <Bar x={low} y={0} width={Math.max(1, high - low)} height={plotPx} class="dw-grey-band" />
          <Flags flags={flags} topY={-4} footY={plotPx} />
          <CountAxis bins={bins} x={x} widthPx={widthPx} />
        </At>
      </g>
    ),
  };
}

/** Years in which nothing of the kind happened are good ones, and have not the colour of what did not happen. */
function YearsBar({
  bin: { from, to, years },
  all,
  look,
  x,
  y,
}: {
  readonly bin: Bin;
  readonly all: number;
  readonly look: string;
  readonly x: TimeScale;
  readonly y: (share: number) => number;
}): VNode | null {
  if (years === 0) return null;
  const [left, right] = [x(from - 0.5), x(to + 0.5)];
  const gap = Math.min(2, (right - left) / 6);
  const top = Math.min(y(years / all), plotPx - 1);
  const counts = from === to ? String(from) : `${String(from)} to ${String(to)}`;
  return (
    <Bar
      x={left + gap}
      y={top}
      width={right - left - 2 * gap}
      height={plotPx - top}
      class={to === 0 ? 'dw-use-sleep' : look}
      title={`${counts}: ${counted(years, 'year')}`}
    />
  );
}

/** Under each bar its count, or where the bar begins, as far as words have room. */
function CountAxis({
  bins,
  x,
  widthPx,
}: {
  readonly bins: readonly Bin[];
  readonly x: TimeScale;
  readonly widthPx: number;
}): VNode {
  const last = bins.at(-1);
  const widest = textWidth(numberText(last?.to ?? 0), { sizePx: 11 }) + 12;
  const step = last === undefined ? 1 : last.to - last.from + 1;
  const room = x(step) - x(0);
  const every = [1, 2, 5, 10, 20, 50].find((times) => times * room >= widest) ?? 100;
  return (
    <g>
      <path class="dw-axis" d={`M0 ${plotPx}H${widthPx}`} />
      {bins
        .filter(({ from }) => (from / step) % every === 0)
        .map(({ from, to }) => (
          <Words
            x={from === to ? x(from) : Math.max(4, x(from - 0.5))}
            y={plotPx + 16}
            anchor="middle"
            class="dw-soft"
          >
            {numberText(from)}
          </Words>
        ))}
    </g>
  );
}

/** The mean with its interval, and what nine years of ten stay below. */
function flagsOf(name: YearlyName, { estimate, yearsByCount }: EstimateInput): readonly Flag[] {
  const rate = estimate.rates[name];
  const known = `${percentText(estimate.confidence)} sure: ${knownText(rate, figure)}`;
  const words =
    rate.count === 0
      ? `none seen, ${known}`
      : `mean ${figure(rate.perYear, 'up')} per year, ${known}`;
  const ninth = countReached(yearsByCount[name], 0.9 * estimate.years);
  const ofTen: Flag = {
    ms: ninth,
    words: `9 years of 10 have at most ${numberText(ninth)}`,
    look: 'soft',
  };
  const isShown = rate.count > 0 && estimate.years >= 10;
  return [{ ms: rate.perYear, words, look: 'strong' }, ...(isShown ? [ofTen] : [])];
}

function countReached(years: YearsByCount, wanted: number): number {
  let sum = 0;
  const ascending = [...years].sort((a, b) => a[0] - b[0]);
  for (const [count, many] of ascending) {
    sum += many;
    if (sum >= wanted) return count;
  }
  return ascending.at(-1)?.[0] ?? 0;
}
