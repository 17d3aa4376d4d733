// Settings as threads through aligned columns, the better the higher: latency, misses, false alarms, life. A requirement is a
// gate in its column, so that the one that nothing passes shows at once.
import type { VNode } from 'preact';
import { dayMs, durationText, greatestOf, leastOf, roughDurationText } from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import type { RequirementName, Trial, TuneAnswer, TuneRequirements } from '../../tune/index.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { circle } from '../glyphs.js';
import { px } from '../numbers.js';
import type { LegendEntry } from '../page/legend.js';
import { cutText, textWidth } from '../text.js';
import { failing } from './failing.js';

const titlePx = 30;
const headPx = 34;
const plotPx = 200;
const footPx = 40;
const endPx = 92;
const mostThreads = 400;
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
  const time = (ms: number): string => roughDurationText(ms, 'at most');
  const quiet: Column = {
    name: 'quiet up to',
    of: ({ proved }) => proved.quietUpToMs,
    better: 'more',
    text: (ms) => roughDurationText(ms, 'at least'),
    gate: quietUpToMs,
    requirement: 'quietUpTo',
    passes: ({ proved }) => proved.quietUpToMs >= (quietUpToMs ?? 0),
  };
  return [
    {
      name: 'worst latency',
      of: ({ proved }) => proved.worstDelayMs,
      better: 'less',
      text: time,
      gate: worstDelayMs,
      requirement: 'worstDelay',
      passes: ({ proved }) => atMost(proved.worstDelayMs, worstDelayMs),
    },
    {
      name: 'sure from',
      of: ({ proved }) => proved.sureFromMs,
      better: 'less',
      text: time,
      gate: sureFromMs,
      requirement: 'sureFrom',
      passes: ({ proved }) => atMost(proved.sureFromMs, sureFromMs),
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
  const stepPx = (fullPx - 2 * endPx) / (columns.length - 1);
  const placed = columns.map((column, index) => placedOf(column, trials, endPx + index * stepPx));
  const others = front.filter((trial) => trial !== recommended && trial !== present);
  return {
    height: titlePx + headPx + plotPx + footPx,
    node: (
      <g>
        <Words x={0} y={12} size={13} class="dw-bold">
          {cutText(
            'Each setting as a thread, the better the higher; requirements are gates',
            fullPx,
            {
              sizePx: 13,
              bold: true,
            },
          )}
        </Words>
        <At y={titlePx + headPx}>
          {placed.map((one) => (
            <ColumnOf placed={one} trials={trials} stepPx={stepPx} fails={fails} />
          ))}
          <Shape class="dw-thread" d={others.map((trial) => thread(trial, placed)).join('')} />
          {recommended === null ? null : (
            <Named trial={recommended} name="recommended" look="dw-curve" placed={placed} />
          )}
          {present === null ? null : (
            <Named trial={present} name="yours" look="dw-worst-line" placed={placed} />
          )}
          {placed.map((one) => (
            <GateWords placed={one} isFailing={isFailingGate(one.column, trials, fails)} />
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
  readonly trials: readonly Trial[];
  readonly stepPx: number;
  readonly fails: ReadonlySet<RequirementName>;
}): VNode {
  const { placed, trials, stepPx, fails } = props;
  const { column, x, y, best, worst } = placed;
  const { gate, name, text } = column;
  const passing = trials.filter(column.passes).length;
  const isFailing = isFailingGate(column, trials, fails);
  const isShut = gate !== null && passing === 0;
  const gateY = gate === null ? 0 : y(gate);
  const room = Math.min(stepPx - 8, 130);
  const font = { sizePx: 11, bold: true };
  return (
    <g>
      <Words x={x} y={-20} anchor="middle" class="dw-bold">
        {cutText(name, room, font)}
      </Words>
      <Words x={x} y={-5} anchor="middle" class="dw-soft">
        {best === 0 ? '0' : cutText(text(best), room, font)}
      </Words>
      <Shape class="dw-axis" d={`M${px(x)} 0V${plotPx}`} />
      <Words x={x} y={plotPx + 14} anchor="middle" class="dw-soft">
        {worst === 0 ? '0' : cutText(text(worst), room, font)}
      </Words>
      {gate === null ? null : (
        <g>
          <Bar
            x={x - 5}
            y={gateY}
            width={10}
            height={Math.max(0, plotPx - gateY)}
            class={isFailing ? 'dw-missed' : 'dw-void'}
            title={`${name}: ${String(passing)} of ${String(trials.length)} pass`}
          />
          <Shape
            class={isFailing ? 'dw-failed' : 'dw-worst-line'}
            d={`M${px(x - 12)} ${px(gateY)}h24`}
          />
          <Words
            x={x}
            y={plotPx + 30}
            anchor="middle"
            class={isShut ? 'dw-bold dw-t-missed' : 'dw-soft'}
          >
            {isShut ? 'none passes' : `${String(passing)} of ${String(trials.length)} pass`}
          </Words>
        </g>
      )}
    </g>
  );
}

/** Over all threads, so that none strikes it. */
function GateWords({
  placed,
  isFailing,
}: {
  readonly placed: Placed;
  readonly isFailing: boolean;
}) {
  const { column, x, y } = placed;
  if (column.gate === null) return null;
  return (
    <Words
      x={x - 15}
      y={y(column.gate) + 4}
      anchor="end"
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
  readonly name: string;
  readonly look: string;
  readonly placed: readonly Placed[];
}): VNode {
  const { trial, name, look, placed } = props;
  const last = placed.at(-1);
  const first = placed[0];
  const ends = name === 'yours' ? first : last;
  const words = textWidth(name, { sizePx: 11, bold: true });
  const at = ends === undefined ? 0 : ends.y(ends.column.of(trial));
  const gate = ends?.column.gate ?? null;
  // The words of the gate stand on that side of the first column.
  const gateY = name === 'yours' && gate !== null && ends !== undefined ? ends.y(gate) : null;
  const isNear = gateY !== null && Math.abs(at - gateY) < wordsApartPx;
  const isAbove = gateY !== null && (at < gateY || gateY + wordsApartPx > plotPx - 4);
  const y = isNear ? gateY + (isAbove ? -wordsApartPx : wordsApartPx) : at;
  const x = ends === undefined ? 0 : name === 'yours' ? ends.x - 9 : ends.x + 9;
  return (
    <g>
      <Shape class={`${look} dw-open-path`} d={thread(trial, placed)} title={name} />
      {placed.map((one) => (
        <Shape class="dw-arrow" d={circle(one.x, one.y(one.column.of(trial)), 3)} />
      ))}
      <Words
        x={x}
        y={y - 7 < 8 && words > endPx ? y + 12 : y + 4}
        class="dw-bold dw-halo"
        {...(name === 'yours' ? { anchor: 'end' as const } : {})}
      >
        {name}
      </Words>
    </g>
  );
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
