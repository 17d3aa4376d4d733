// The front as a plot: worst delay to the right, life up, what wakes the device as a shape, and false alarms as its size.
import { scaleLinear } from 'd3-scale';
import {
  dayMs,
  durationText,
  greatestOf,
  meanYearMs,
  roundedDurationText,
} from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import type { RequirementName, Trial, TuneAnswer, TuneRequirements } from '../../tune/index.js';
import { countText, meanRate } from '../../wording/index.js';
import { DurationAxis, ShareAxis, sideWordsPx } from '../detection/axes.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { circle, diamond, type Glyph, square, triangleUp } from '../glyphs.js';
import { px } from '../numbers.js';
import type { LegendEntry } from '../page/legend.js';
import { textWidth } from '../text.js';
import { failing } from './failing.js';

const titlePx = 44;
const plotPx = 320;
const axisPx = 22;
const edgePx = 12;
/** So that the largest mark of a delay of next to nothing stays inside. */
const leftPx = 14;
const smallestPx = 3.2;
const largestPx = 11;
/** Around a setting that is named. */
const ringPx = largestPx + 4;

type WakeOn = Trial['settings']['wakeOn'];

const shapes: Readonly<Record<WakeOn, { readonly glyph: Glyph; readonly look: string }>> = {
  timer: { glyph: circle, look: 'dw-m-true' },
  opening: { glyph: triangleUp, look: 'dw-m-early' },
  'any-change': { glyph: square, look: 'dw-m-late' },
};

interface Scales {
  readonly x: (ms: number) => number;
  readonly y: (ms: number) => number;
  readonly r: (perYear: number) => number;
}

/** Null where there is nothing with a bound and a life. */
export function frontPanel(
  answer: TuneAnswer,
  { worstDelayMs, lifeMs }: TuneRequirements,
  fullPx: number,
): Block | null {
  const front = answer.front.map(({ trial }) => trial);
  const trials = (answer.present === null ? front : [...front, answer.present]).filter(isDrawn);
  if (trials.length === 0) return null;
  const widthPx = fullPx - sideWordsPx;
  const toMs =
    1.06 * Math.max(worstDelayMs ?? 0, greatestOf(trials.map(({ proved }) => proved.worstDelayMs)));
  const longestMs = Math.max(lifeMs ?? 0, greatestOf(trials.map(({ years }) => years.lifeMs)));
  const unit =
    longestMs >= 2 * meanYearMs ? { ms: meanYearMs, name: 'y' } : { ms: dayMs, name: 'd' };
  const height = scaleLinear([0, (1.05 * longestMs) / unit.ms], [plotPx, edgePx]).nice(5);
  const most = Math.max(0, greatestOf(trials.map(({ years }) => years.rates.falseAlarms.perYear)));
  const scales: Scales = {
    x: scaleLinear([0, toMs], [leftPx, widthPx]),
    y: (ms) => height(ms / unit.ms),
    r: (perYear) =>
      smallestPx + (largestPx - smallestPx) * Math.sqrt(most === 0 ? 0 : perYear / most),
  };
  const ticks = height
    .ticks(5)
    .map((count) => ({ y: height(count), words: `${String(count)} ${unit.name}` }));
  // The large ones first, so that no small one is hidden.
  const drawn = trials.toSorted(
    (a, b) => b.years.rates.falseAlarms.perYear - a.years.rates.falseAlarms.perYear,
  );
  return {
    height: titlePx + plotPx + axisPx,
    node: (
      <g>
        <Words x={0} y={12} size={13} class="dw-bold">
          Life on a charge, against worst detection latency
        </Words>
        <At x={sideWordsPx} y={titlePx}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          <DurationAxis toMs={toMs} x={scales.x} widthPx={widthPx} y={plotPx} topY={0} />
          <Asked
            worstDelayMs={worstDelayMs}
            lifeMs={lifeMs}
            fails={failing(answer)}
            scales={scales}
            widthPx={widthPx}
          />
          {drawn.map((trial) => point(trial, scales))}
          {namesOf(answer, { scales, widthPx, trials })}
        </At>
      </g>
    ),
  };
}

function isDrawn({ proved, years }: Trial): boolean {
  return Number.isFinite(proved.worstDelayMs) && Number.isFinite(years.lifeMs);
}

function point({ settings, proved, years }: Trial, { x, y, r }: Scales) {
  const { glyph, look } = shapes[settings.wakeOn];
  const { perYear } = years.rates.falseAlarms;
  const { open, outOf } = settings.escalationThreshold;
  const title = [
    `A check every ${durationText(settings.checkIntervalMs)}, again after ${durationText(settings.recheckIntervalMs)}`,
    `alert at ${String(open)} of ${String(outOf)}`,
    `reported within ${roundedDurationText(proved.worstDelayMs, 'at most')}`,
    lifeText(years.lifeMs),
    `${countText(years.rates.missed.perYear, 'up')} missed and ${countText(perYear, 'up')} false alarms per year`,
  ].join('; ');
  return (
    <Shape
      class={look}
      d={glyph(x(proved.worstDelayMs), y(years.lifeMs), r(perYear))}
      title={title}
    />
  );
}

interface Plot {
  readonly scales: Scales;
  readonly widthPx: number;
  readonly trials: readonly Trial[];
}

interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** Where words stand, and their middle line. */
interface WordsPlace {
  readonly left: number;
  readonly width: number;
  readonly y: number;
}

/** The settings of the owner and the recommended ones, each with a ring, its name and what it does. */
function namesOf({ recommended, present }: TuneAnswer, plot: Plot) {
  const { x, y } = plot.scales;
  const placed: WordsPlace[] = [];
  const shown = (
    [
      [recommended, 'recommended'],
      [present, 'yours'],
    ] as const
  ).flatMap(([trial, name]) =>
    trial === null || !isDrawn(trial)
      ? []
      : [{ trial, name, x: x(trial.proved.worstDelayMs), y: y(trial.years.lifeMs), r: ringPx }],
  );
  return (
    <g>
      {shown.map((ring) => (
        <Shape class="dw-ink-line" d={circle(ring.x, ring.y, ringPx)} />
      ))}
      {shown.map((ring) => {
        const { proved, years } = ring.trial;
        const missed = meanRate(years.rates.missed);
        const latency = `${ring.name}: ${roundedDurationText(proved.worstDelayMs, 'at most')}`;
        const life = lifeText(years.lifeMs);
        const whole = `${latency}, ${life}, ${missed} missed per year`;
        const rings = shown.filter((other) => other !== ring);
        const { words, place } = fittingWords([whole, `${latency}, ${life}`, latency, ring.name], {
          ring,
          plot: { ...plot, placed, rings },
        });
        placed.push(place);
        return (
          <g>
            <Shape class="dw-ink-line" d={leader(ring, place)} />
            <Words x={place.left} y={place.y + 4} class="dw-halo dw-bold">
              {words}
            </Words>
          </g>
        );
      })}
    </g>
  );
}

/** From the ring to its words, where they are not right beside it. */
function leader({ x, y, r }: Disc, { left, width, y: wordsY }: WordsPlace): string {
  const endX = left > x ? left - 3 : left + width + 3;
  const away = Math.hypot(endX - x, wordsY - y);
  if (away <= r + 6) return '';
  const share = r / away;
  return `M${px(x + share * (endX - x))} ${px(y + share * (wordsY - y))}L${px(endX)} ${px(wordsY)}`;
}

const namedDy = [-14, 14, 0, -30, 30, -46] as const;

interface Crowd extends Plot {
  readonly placed: readonly WordsPlace[];
  readonly rings: readonly Disc[];
}

/** The first of the words, which are ever fewer, that have a place inside the plot; where none has, the last, over what is there. */
function fittingWords(
  choices: readonly string[],
  { ring, plot }: { readonly ring: Disc; readonly plot: Crowd },
): { readonly words: string; readonly place: WordsPlace } {
  for (const words of choices) {
    const place = clearestPlace(words, ring, plot);
    if (place !== null) return { words, place };
  }
  const words = choices.at(-1) ?? '';
  const width = textWidth(words, { sizePx: 11, bold: true });
  const left = Math.max(2, Math.min(ring.x + 18, plot.widthPx - 2 - width));
  return { words, place: { left, width, y: ring.y } };
}

/** Beside its ring, inside the plot, where the words cover the fewest settings and no other words; null: no place is free. */
function clearestPlace(words: string, { x: cx, y: cy }: Disc, plot: Crowd): WordsPlace | null {
  const { scales, widthPx, trials, placed, rings } = plot;
  const width = textWidth(words, { sizePx: 11, bold: true });
  const places = namedDy.flatMap((dy) =>
    [cx + 18, cx - 18 - width].map((left): WordsPlace => ({ left, width, y: cy + dy })),
  );
  const points = trials.map(
    ({ proved, years }): Disc => ({
      x: scales.x(proved.worstDelayMs),
      y: scales.y(years.lifeMs),
      r: scales.r(years.rates.falseAlarms.perYear),
    }),
  );
  // Close to another ring the words would seem to name that one.
  const apart = rings.map((ring): Disc => ({ ...ring, r: ring.r + 20 }));
  const covered = ({ left, y }: WordsPlace): number =>
    [...points, ...apart].filter(
      (disc) =>
        disc.x + disc.r > left &&
        disc.x - disc.r < left + width &&
        Math.abs(disc.y - y) < disc.r + 6,
    ).length;
  const inside = places.filter(
    ({ left, y }) =>
      left >= 2 &&
      left + width <= widthPx - 2 &&
      y >= 8 &&
      y <= plotPx - 8 &&
      placed.every(
        (other) =>
          Math.abs(other.y - y) >= 14 ||
          other.left > left + width ||
          other.left + other.width < left,
      ),
  );
  const [first, ...others] = inside;
  if (first === undefined) return null;
  return others.reduce((best, place) => (covered(place) < covered(best) ? place : best), first);
}

function Asked({
  worstDelayMs,
  lifeMs,
  fails,
  scales,
  widthPx,
}: {
  readonly worstDelayMs: number | null;
  readonly lifeMs: number | null;
  readonly fails: ReadonlySet<RequirementName>;
  readonly scales: Scales;
  readonly widthPx: number;
}) {
  const lifeWords = lifeMs === null ? '' : askedWords('at least', lifeMs, fails.has('life'));
  const limitX = worstDelayMs === null ? widthPx : scales.x(worstDelayMs);
  // Not on the line of the other requirement.
  const isClear = limitX < widthPx - 12 - textWidth(lifeWords, { sizePx: 11, bold: true });
  const lifeWordsX = (isClear ? widthPx : limitX) - 6;
  return (
    <g>
      {worstDelayMs === null ? null : (
        <g>
          <Shape
            class={fails.has('worstDelay') ? 'dw-failed' : 'dw-asked-line'}
            d={`M${px(scales.x(worstDelayMs))} 0V${plotPx}`}
          />
          <Words
            x={scales.x(worstDelayMs)}
            y={-6}
            anchor="end"
            class={fails.has('worstDelay') ? 'dw-bold dw-t-missed' : 'dw-soft'}
          >
            {askedWords('at most', worstDelayMs, fails.has('worstDelay'))}
          </Words>
        </g>
      )}
      {lifeMs === null ? null : (
        <g>
          <Shape
            class={fails.has('life') ? 'dw-failed' : 'dw-asked-line'}
            d={`M0 ${px(scales.y(lifeMs))}H${px(widthPx)}`}
          />
          <Words
            x={lifeWordsX}
            y={scales.y(lifeMs) + 14}
            anchor="end"
            class={fails.has('life') ? 'dw-bold dw-halo dw-t-missed' : 'dw-soft dw-halo'}
          >
            {lifeWords}
          </Words>
        </g>
      )}
    </g>
  );
}

function askedWords(bound: 'at least' | 'at most', ms: number, isFailed: boolean): string {
  return `${isFailed ? 'NOT met' : 'required'}: ${bound} ${durationText(ms)}`;
}

const wakeWords: Readonly<Record<WakeOn, string>> = {
  timer: 'wakes on the timer only',
  opening: 'an opening also wakes it',
  'any-change': 'any change also wakes it',
};

/** What stands in the plot, and no more. */
export function frontSamples({ front }: TuneAnswer): readonly LegendEntry[] {
  const wakes = new Set(front.map(({ trial }) => trial.settings.wakeOn));
  const most = Math.max(
    0,
    greatestOf(front.map(({ trial }) => trial.years.rates.falseAlarms.perYear)),
  );
  const entries = (['timer', 'opening', 'any-change'] as const)
    .filter((wakeOn) => wakes.has(wakeOn))
    .map((wakeOn): LegendEntry => {
      const { glyph, look } = shapes[wakeOn];
      return { words: wakeWords[wakeOn], sample: <Shape class={look} d={glyph(11, 8, 5)} /> };
    });
  const sizes: LegendEntry = {
    words: `the larger, the more false alarms: up to ${String(Number(most.toPrecision(3)))} per year`,
    sample: (
      <g>
        <Shape class="dw-m-repeat" d={diamond(5, 8, 3)} />
        <Shape class="dw-m-repeat" d={diamond(15, 8, 6)} />
      </g>
    ),
  };
  return [...entries, sizes];
}
