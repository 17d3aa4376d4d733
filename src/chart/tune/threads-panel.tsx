// Settings as threads through aligned columns, the better the higher: latency, misses, false alarms, life. A requirement is a
// gate in its column, so that the one that nothing passes shows at once.
import type { VNode } from 'preact';
import { dayMs, durationText, greatestOf, leastOf, roundedDurationText } from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import type { RequirementName, Trial, TuneAnswer, TuneRequirements } from '../../tune/index.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { circle } from '../glyphs.js';
import { px } from '../numbers.js';
import type { LegendEntry } from '../page/legend.js';
import { cutText, wrapText } from '../text.js';
import { failing } from './failing.js';

const titleFont = { sizePx: 13, bold: true };
const titleLinePx = 16;
const font = { sizePx: 11, bold: true };
const linePx = 13;
const plotPx = 200;
/** Up to this width words of a column are wrapped, and those of a thread stand over it: beside it there is no room. */
const narrowPx = 640;
const endPx = { wide: 92, narrow: 34 };
const mostThreads = 400;
const title = 'Each setting as a thread, the better the higher; requirements are gates';
/** Between the middles of two labels, one over the other. */
const wordsApartPx = 14;

interface Column {
  readonly name: string;
  readonly of: (trial: Trial) => number;
  /** Of life, more is better. */
  readonly better: 'less' | 'more';
  readonly text: (value: number) => string;
  /** What is required; null: nothing is. */
  readonly gate: number | null;
  /** Null: nothing can be required of it. */
  readonly requirement: RequirementName | null;
  readonly passes: (trial: Trial) => boolean;
}

const rate = (perYear: number): string => String(Number(perYear.toPrecision(2)));

function columnsOf(requirements: TuneRequirements): readonly Column[] {
  const { worstDelayMs, sureFromMs, quietUpToMs, falseAlarmsPerYear, lifeMs } = requirements;
  const atMost = (value: number, gate: number | null): boolean => gate === null || value <= gate;
  const time = (ms: number): string => roundedDurationText(ms, 'at most');
  const quiet: Column = {
    name: 'quiet up to',
    of: ({ proved }) => proved.quietUpToMs,
    better: 'more',
    text: (ms) => roundedDurationText(ms, 'at least'),
    gate: quietUpToMs,
    requirement: 'quietUpTo',
    passes: ({ proved }) => proved.inSpiteOfBounce.quietUpToMs >= (quietUpToMs ?? 0),
  };
  return [
    {
      name: 'worst latency',
      of: ({ proved }) => proved.worstDelayMs,
      better: 'less',
      text: time,
      gate: worstDelayMs,
      requirement: 'worstDelay',
      passes: ({ proved }) => atMost(proved.inSpiteOfBounce.worstDelayMs, worstDelayMs),
    },
    {
      name: 'sure from',
      of: ({ proved }) => proved.sureFromMs,
      better: 'less',
      text: time,
      gate: sureFromMs,
      requirement: 'sureFrom',
      passes: ({ proved }) => atMost(proved.inSpiteOfBounce.sureFromMs, sureFromMs),
    },
    {
      name: 'missed per year',
      of: ({ years }) => years.rates.missed.perYear,
      better: 'less',
      text: rate,
      gate: null,
      requirement: null,
      passes: () => true,
    },
    {
      name: 'false alarms per year',
      of: ({ years }) => years.rates.falseAlarms.perYear,
      better: 'less',
      text: rate,
      gate: falseAlarmsPerYear,
      requirement: 'falseAlarms',
      // The upper end of the interval decides, as it does for the recommendation.
      passes: ({ years }) => atMost(years.rates.falseAlarms.high, falseAlarmsPerYear),
    },
    ...(quietUpToMs === null ? [] : [quiet]),
    {
      name: 'life on a charge',
      of: ({ years }) => years.lifeMs,
      better: 'more',
      text: axisLifeText,
      gate: lifeMs,
      requirement: 'life',
      passes: ({ years }) => years.lifeMs >= (lifeMs ?? 0),
    },
  ];
}

/** In days as long as people write lives in days; what is required is written as it was given. */
function axisLifeText(ms: number): string {
  return ms > 2 * dayMs && ms < 1_000 * dayMs
    ? `${String(Math.floor(ms / dayMs))} d`
    : lifeText(ms).replace(/ \(.*\)/u, '');
}

interface Placed {
  readonly column: Column;
  readonly x: number;
  /** From a value to pixels: 0 is the best. What has no bound lies at the foot. */
  readonly y: (value: number) => number;
  readonly worst: number;
  readonly best: number;
}

/** Null where nothing was tried. */
export function threadsPanel(
  answer: TuneAnswer,
  requirements: TuneRequirements,
  fullPx: number,
): Block | null {
  const front = answer.front.map(({ trial }) => trial).slice(0, mostThreads);
  const { present, recommended } = answer;
  const fails = failing(answer);
  const trials = present === null || front.includes(present) ? front : [...front, present];
  if (trials.length === 0) return null;
  const columns = columnsOf(requirements);
  const isNarrow = fullPx < narrowPx;
  const sidePx = isNarrow ? endPx.narrow : endPx.wide;
  const stepPx = (fullPx - 2 * sidePx) / (columns.length - 1);
  const placed = columns.map((column, index) => placedOf(column, trials, sidePx + index * stepPx));
  const roomPx = Math.min(stepPx - 6, 130);
  const named = columns.map(({ name }) => wrapText(name, roomPx, { font, mostLines: 3 }));
  const titled = wrapText(title, fullPx, { font: titleFont, mostLines: 2 });
  const titlePx = 14 + titled.length * titleLinePx;
  const headPx = 21 + linePx * greatestOf(named.map(({ length }) => length));
  const footPx = isNarrow ? 54 : 40;
  const others = front.filter((trial) => trial !== recommended && trial !== present);
  return {
    height: titlePx + headPx + plotPx + footPx,
    node: (
      <g>
        {titled.map((line, index) => (
          <Words x={0} y={12 + index * titleLinePx} size={titleFont.sizePx} class="dw-bold">
            {line}
          </Words>
        ))}
        <At y={titlePx + headPx}>
          {placed.map((one, index) => (
            <ColumnOf placed={one} name={named[index] ?? []} on={{ trials, roomPx, fails }} />
          ))}
          <Shape class="dw-thread" d={others.map((trial) => thread(trial, placed)).join('')} />
          {recommended === null ? null : (
            <Named
              trial={recommended}
              name="recommended"
              look="dw-curve"
              on={{ placed, isNarrow }}
            />
          )}
          {present === null ? null : (
            <Named trial={present} name="yours" look="dw-worst-line" on={{ placed, isNarrow }} />
          )}
          {placed.map((one) => (
            <GateWords
              placed={one}
              isFailing={isFailingGate(one.column, trials, fails)}
              isNarrow={isNarrow}
            />
          ))}
        </At>
      </g>
    ),
  };
}

function placedOf(column: Column, trials: readonly Trial[], x: number): Placed {
  const { of, better, gate } = column;
  const values = [...trials.map(of), ...(gate === null ? [] : [gate])].filter(Number.isFinite);
  const most = Math.max(greatestOf(values), 0);
  const least = Math.min(leastOf(values), most);
  // Near zero the scale begins there; else it spans what there is, so that threads stay apart, but never less than a
  // tenth: settings that hardly differ must not look far apart.
  const low = least < 0.4 * most ? 0 : Math.min(least, 0.9 * most);
  const span = Math.max(most - low, 1e-9);
  const y = (value: number): number => {
    if (!Number.isFinite(value)) return better === 'less' ? plotPx : 0;
    const share = (value - low) / span;
    return 12 + (better === 'less' ? share : 1 - share) * (plotPx - 24);
  };
  return {
    column,
    x,
    y,
    best: better === 'less' ? low : most,
    worst: better === 'less' ? most : low,
  };
}

function ColumnOf(props: {
  readonly placed: Placed;
  /** In lines. */
  readonly name: readonly string[];
  readonly on: {
    readonly trials: readonly Trial[];
    readonly roomPx: number;
    readonly fails: ReadonlySet<RequirementName>;
  };
}): VNode {
  const { placed, name, on } = props;
  const { trials, roomPx, fails } = on;
  const { column, x, y, best, worst } = placed;
  const { gate, text } = column;
  const passing = trials.filter(column.passes).length;
  const isFailing = isFailingGate(column, trials, fails);
  const isShut = gate !== null && passing === 0;
  const gateY = gate === null ? 0 : y(gate);
  const passWords = isShut ? 'none passes' : `${String(passing)} of ${String(trials.length)} pass`;
  return (
    <g>
      {name.map((line, index) => (
        <Words x={x} y={-20 - (name.length - 1 - index) * linePx} anchor="middle" class="dw-bold">
          {line}
        </Words>
      ))}
      <Words x={x} y={-5} anchor="middle" class="dw-soft">
        {best === 0 ? '0' : cutText(text(best), roomPx, font)}
      </Words>
      <Shape class="dw-axis" d={`M${px(x)} 0V${plotPx}`} />
      <Words x={x} y={plotPx + 14} anchor="middle" class="dw-soft">
        {worst === 0 ? '0' : cutText(text(worst), roomPx, font)}
      </Words>
      {gate === null ? null : (
        <g>
          <Bar
            x={x - 5}
            y={gateY}
            width={10}
            height={Math.max(0, plotPx - gateY)}
            class={isFailing ? 'dw-missed' : 'dw-void'}
            title={`${column.name}: ${String(passing)} of ${String(trials.length)} pass`}
          />
          <Shape
            class={isFailing ? 'dw-failed' : 'dw-worst-line'}
            d={`M${px(x - 12)} ${px(gateY)}h24`}
          />
          {wrapText(passWords, roomPx, { font, mostLines: 2 }).map((line, index) => (
            <Words
              x={x}
              y={plotPx + 30 + index * linePx}
              anchor="middle"
              class={isShut ? 'dw-bold dw-t-missed' : 'dw-soft'}
            >
              {line}
            </Words>
          ))}
        </g>
      )}
    </g>
  );
}

/** Over all threads, so that none strikes it: beside its gate, or on it where there is no room. */
function GateWords(props: {
  readonly placed: Placed;
  readonly isFailing: boolean;
  readonly isNarrow: boolean;
}): VNode | null {
  const { placed, isFailing, isNarrow } = props;
  const { column, x, y } = placed;
  if (column.gate === null) return null;
  const gateY = y(column.gate);
  return (
    <Words
      x={isNarrow ? x : x - 15}
      y={isNarrow ? gateY - 5 : gateY + 4}
      anchor={isNarrow ? 'middle' : 'end'}
      class={isFailing ? 'dw-bold dw-halo dw-t-missed' : 'dw-bold dw-halo'}
    >
      {column.requirement === 'life' ? durationText(column.gate) : column.text(column.gate)}
    </Words>
  );
}

/** No setting passes it, or some do and none of these passes all the others. */
function isFailingGate(
  { gate, requirement, passes }: Column,
  trials: readonly Trial[],
  fails: ReadonlySet<RequirementName>,
): boolean {
  if (gate === null) return false;
  return !trials.some(passes) || (requirement !== null && fails.has(requirement));
}

function thread(trial: Trial, placed: readonly Placed[]): string {
  return placed
    .map(
      ({ column, x, y }, index) => `${index === 0 ? 'M' : 'L'}${px(x)} ${px(y(column.of(trial)))}`,
    )
    .join('');
}

function Named(props: {
  readonly trial: Trial;
  readonly name: 'recommended' | 'yours';
  readonly look: string;
  readonly on: { readonly placed: readonly Placed[]; readonly isNarrow: boolean };
}): VNode {
  const { trial, name, look, on } = props;
  const { placed, isNarrow } = on;
  const end = name === 'yours' ? placed[0] : placed.at(-1);
  return (
    <g>
      <Shape class={`${look} dw-open-path`} d={thread(trial, placed)} title={name} />
      {placed.map((one) => (
        <Shape class="dw-arrow" d={circle(one.x, one.y(one.column.of(trial)), 3)} />
      ))}
      {end === undefined ? null : (
        <Words {...placeOfName(trial, name, { end, isNarrow })} class="dw-bold dw-halo">
          {name}
        </Words>
      )}
    </g>
  );
}

/** Outside the first or the last column; where there is no room, over or under the thread and inwards. */
function placeOfName(
  trial: Trial,
  name: 'recommended' | 'yours',
  { end, isNarrow }: { readonly end: Placed; readonly isNarrow: boolean },
): { readonly x: number; readonly y: number; readonly anchor?: 'end' } {
  const at = end.y(end.column.of(trial));
  const isFirst = name === 'yours';
  if (isNarrow) {
    const y = at < 40 ? at + 18 : at - 9;
    return isFirst ? { x: end.x - endPx.narrow, y } : { x: end.x + endPx.narrow, y, anchor: 'end' };
  }
  // The words of the gate stand on that side of the first column.
  const { gate } = end.column;
  const gateY = isFirst && gate !== null ? end.y(gate) : null;
  const isNear = gateY !== null && Math.abs(at - gateY) < wordsApartPx;
  const isAbove = gateY !== null && (at < gateY || gateY + wordsApartPx > plotPx - 4);
  const y = isNear ? gateY + (isAbove ? -wordsApartPx : wordsApartPx) : at;
  return isFirst ? { x: end.x - 9, y: y + 4, anchor: 'end' } : { x: end.x + 9, y: y + 4 };
}

/** What the threads mean. */
export function threadSamples({ present, recommended }: TuneAnswer): readonly LegendEntry[] {
  return [
    { words: 'a setting', sample: <Shape class="dw-thread" d="M0 8H22" /> },
    ...(recommended === null
      ? []
      : [{ words: 'recommended', sample: <Shape class="dw-curve" d="M0 8H22" /> }]),
    ...(present === null
      ? []
      : [{ words: 'yours', sample: <Shape class="dw-worst-line" d="M0 8H22" /> }]),
    {
      words: 'gate: below it a requirement is not met',
      sample: (
        <g>
          <Bar x={6} y={5} width={10} height={11} class="dw-void" />
          <Shape class="dw-worst-line" d="M0 5H22" />
        </g>
      ),
    },
  ];
}
