// The report of `margin`: whether somebody comes in time, then the numbers, then where the model is wrong.
import { durationText, leastOf, ppmText, roundedDurationText, trueMs } from '../../base/index.js';
import { type Demanded, type Gaps, type Obstacle, obstacleOf } from '../../bounds/index.js';
import type { Limit, Margin, NamedLimit, Space } from '../../margin/index.js';
import { writeDuration } from '../../scenarios/index.js';
import { gapsWords, marginSpanText } from '../../wording/index.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';

export interface MarginAnswer extends Space {
  /** The watch file as it was given. */
  readonly config: string | undefined;
  readonly limit: Limit;
  readonly named: NamedLimit | null;
  readonly worstDelayMs: number;
  readonly delayFrom: 'given' | 'watch-file';
  readonly seenAfterMs: number;
  readonly lostPpm: number;
  readonly gaps: Gaps | null;
  readonly hasSupply: boolean;
  readonly withFaults: boolean;
  readonly proved: Demanded | null;
  readonly responseMs: number;
  readonly cases: readonly MarginCase[];
}

export interface MarginCase {
  readonly warming: {
    readonly kind: 'open' | 'ajar' | 'readings' | 'doorway';
    readonly fitted: { readonly readings: number; readonly worstMisfitCelsius: number } | null;
    readonly exchange: { readonly flow: number; readonly densityFactor: number } | null;
  };
  readonly margin: Margin;
}

export const caseWords = {
  open: 'door open',
  ajar: 'door ajar',
  readings: 'as the readings warm',
  doorway: 'air through the doorway',
} as const;

/** The answer as a JSON object, schema `dozewatch/margin/1`: whole milliseconds, °C, m³/s. */
export function marginJson(answer: MarginAnswer): string {
  const {
    startCelsius,
    outsideCelsius,
    limit,
    named,
    worstDelayMs,
    delayFrom,
    seenAfterMs,
    gaps,
    responseMs,
  } = answer;
  const { celsius, passed } = limit;
  const written = {
    schema: 'dozewatch/margin/1',
    startCelsius,
    outsideCelsius,
    limit: { celsius, passed, name: named?.name ?? null, source: named?.source ?? null },
    worstDelayMs,
    delayFrom,
    seenAfterMs,
    responseMs,
    holdsForGapsOverMm: gaps === null || gaps.kind === 'assumed' ? null : gaps.overMm,
    cases: answer.cases.map(({ warming: { kind, fitted, exchange }, margin }) => ({
      kind,
      fitted,
      exchange,
      ...margin,
    })),
  };
  return `${JSON.stringify(written, null, 2)}\n`;
}

export function marginReport(
  answer: MarginAnswer,
  { width, paint }: { readonly width: number; readonly paint: Paint },
): string {
  const headlines = answer.cases.map((one) => paragraphText(headline(one, answer, paint), width));
  const columns = [
    { title: 'case' },
    { title: 'time constant', align: 'right' },
    { title: 'to the limit', align: 'right' },
    { title: 'time left', align: 'right' },
    { title: 'when shut', align: 'right' },
    { title: 'reportWithin at most', align: 'right' },
  ] as const;
  const rows = answer.cases.map(({ warming, margin }) => ({
    cells: [
      caseWords[warming.kind],
      marginSpanText(margin.tauMs),
      margin.toLimitMs === null ? 'never' : marginSpanText(margin.toLimitMs, 'at least'),
      margin.leftMs === null ? 'all' : marginSpanText(margin.leftMs, 'at least'),
      worstCelsiusText(margin.celsiusThen, answer.limit),
      latestText(margin),
    ],
    below: notesOf(warming, answer),
  }));
  const openings = openingsText(answer.gaps, paint);
  const impossible = obstacleText(answer);
  return [
    ...headlines,
    impossible === '' ? '' : paragraphText(impossible, width),
    openings === '' ? '' : paragraphText(openings, width),
    `\n${factsText(facts(answer), width)}`,
    `\n${[...tableText(columns, rows, width)].join('')}`,
    `\n${paragraphText(caveats, width)}`,
    nextText(answer),
  ].join('');
}

/** Nobody comes for an opening that the contact does not see. */
export function isInTime({ cases, gaps }: Pick<MarginAnswer, 'cases' | 'gaps'>): boolean {
  return (
    gaps?.kind !== 'blind' &&
    cases.every(({ margin: { leftMs } }) => leftMs === null || leftMs >= 0)
  );
}

/** For which openings the headlines hold; empty: for all. */
function openingsText(gaps: Gaps | null, paint: Paint): string {
  const words = gapsWords(gaps);
  if (gaps === null || words === null) return '';
  const { kind, overMm } = gaps;
  if (kind === 'assumed') return `This holds ${words}: the contact does not see such an opening.`;
  const unseen = 'then no alert comes, and nobody shuts the door in time';
  return kind === 'wider'
    ? `This holds ${words}. At a smaller gap the contact can read shut: ${unseen}.`
    : `${paint.bad(`NOT in time for every opening`)}: ${words}; ${unseen}. For openings wider than ${String(overMm)} mm it is as above.`;
}

/** The latest alert that is early enough where the present one is too late; null: all cases are in time, or no alert helps. */
function requiredMs(cases: readonly MarginCase[]): number | null {
  const within = cases.flatMap(({ margin: { leftMs, latestReportWithinMs: latest } }) =>
    leftMs !== null && leftMs < 0 && latest !== null ? [latest] : [],
  );
  return within.length === 0 ? null : wholeSeconds(leastOf(within));
}

/** What keeps every setting from an alert that is early enough; null: a setting may do it. */
function obstacleTo({ cases, proved }: Pick<MarginAnswer, 'cases' | 'proved'>): Obstacle | null {
  const reportWithinMs = requiredMs(cases);
  if (reportWithinMs === null || proved === null) return null;
  const judge = { ...proved.judge, reportWithinMs: trueMs(reportWithinMs) };
  return obstacleOf('reportWithin', { ...proved, judge }, 'atRest');
}

function obstacleText(answer: MarginAnswer): string {
  const obstacle = obstacleTo(answer);
  if (obstacle === null) return '';
  const delay = roundedDurationText(requiredMs(answer.cases) ?? 0, 'at least');
  return `No setting of the watch delivers every alert within ${delay} while ${obstacle.why} (environment: in the watch file).`;
}

/** Settings for the case that leaves the least time; empty where all are in time, or none can be. */
function nextText(answer: MarginAnswer): string {
  const { cases, config, hasSupply } = answer;
  const within = requiredMs(cases);
  if (within === null) return '';
  const delay = writeDuration(within);
  const watch = watchWords(config ?? null);
  const obstacle = obstacleTo(answer);
  if (obstacle !== null) {
    const without = obstacle.without.flatMap(({ option }) => [...option]);
    const words = ['bounds', ...watch, ...without, '--report-within', delay];
    return nextLine('what settings alone can improve', words);
  }
  if (config !== undefined && !hasSupply) {
    const words = ['bounds', ...watch, '--report-within', delay];
    return nextLine('what to change for it', words);
  }
  const add =
    config === undefined
      ? 'add -c with a watch file that has a supply:, and --profile'
      : 'add --profile';
  return nextLine(`settings for it (${add}, or --profile-from with your door log)`, [
    'tune',
    ...watch,
    '--worst-delay',
    delay,
  ]);
}

/** How soon after the alert somebody must shut the door; empty: the alert alone is too late. */
function fastEnough(
  toLimitMs: number,
  { worstDelayMs, seenAfterMs }: Pick<MarginAnswer, 'worstDelayMs' | 'seenAfterMs'>,
): string {
  const leftMs = toLimitMs - worstDelayMs - seenAfterMs;
  if (leftMs <= 0) return ', and the alert itself comes after the limit';
  return `. With an alert after ${roundedDurationText(worstDelayMs, 'at most')}, somebody must shut the door within ${marginSpanText(leftMs, 'at least')} of ${seenAfterMs === 0 ? 'it' : 'seeing it'}`;
}

function headline({ warming, margin }: MarginCase, answer: MarginAnswer, paint: Paint): string {
  const { limit } = answer;
  const lead = paint.bold(caseWords[warming.kind]);
  const at = celsiusText(limit.celsius);
  const { toLimitMs, leftMs, latestReportWithinMs } = margin;
  if (toLimitMs === null || leftMs === null) {
    return `${lead}: ${paint.good(`${at} is never reached`)}.`;
  }
  const reached = `the temperature reaches ${at} after ${marginSpanText(toLimitMs, 'at least')}`;
  if (leftMs >= 0) {
    return `${lead}: ${reached}. ${paint.good(`Somebody shuts the door ${marginSpanText(leftMs, 'at least')} before that`)}.`;
  }
  const late = paint.bad(`Somebody shuts the door ${marginSpanText(-leftMs, 'at most')} TOO LATE`);
  const remedy =
    latestReportWithinMs === null
      ? `No alert is early enough for a response that takes this long${fastEnough(toLimitMs, answer)}`
      : `To be in time, the alert must arrive within ${marginSpanText(latestReportWithinMs, 'at least')} of the opening`;
  return `${lead}: ${reached}. ${late}. ${remedy}.`;
}

function facts(answer: MarginAnswer): (readonly [string, string])[] {
  const {
    startCelsius,
    outsideCelsius,
    limit,
    named,
    worstDelayMs,
    seenAfterMs,
    lostPpm,
    responseMs,
  } = answer;
  const source = named === null ? '' : ` (${named.about}; ${named.source}; local rules come first)`;
  const from =
    answer.delayFrom === 'given'
      ? 'as given'
      : `proved for the watch file: at rest, ${answer.withFaults ? 'with the faults that its environment section allows' : 'and without faults, since its environment section allows none'} (bounds shows it, and every other state)`;
  return [
    ['inside, at first', celsiusText(startCelsius)],
    ['outside', celsiusText(outsideCelsius)],
    ['limit', `${celsiusText(limit.celsius)}${source}`],
    ['worst detection latency', `${roundedDurationText(worstDelayMs, 'at most')}, ${from}`],
    ...(seenAfterMs === 0
      ? []
      : ([
          ['until somebody sees it', `${durationText(seenAfterMs)} (delivery.seenAfter)`],
        ] as const)),
    ...(lostPpm === 0
      ? []
      : ([
          [
            'messages lost',
            `${ppmText(lostPpm)} (delivery.lost): then nobody comes, and nothing here holds`,
          ],
        ] as const)),
    [
      'response',
      responseMs === 0
        ? '0 s: as if somebody shut the door the moment the alert arrives; say how long you need with --response, such as --response 15m'
        : `${durationText(responseMs)}, from the alert to the door being shut`,
    ],
  ];
}

/** Down to a whole second, where that leaves something: a latency that is asked for must be enough. */
function wholeSeconds(ms: number): number {
  return ms < 1_000 ? ms : Math.floor(ms / 1_000) * 1_000;
}

function latestText({ toLimitMs, latestReportWithinMs }: Margin): string {
  if (latestReportWithinMs !== null) return marginSpanText(latestReportWithinMs, 'at least');
  return toLimitMs === null ? 'any' : 'none';
}

function notesOf(
  { fitted, exchange }: MarginCase['warming'],
  { startCelsius, outsideCelsius }: Pick<MarginAnswer, 'startCelsius' | 'outsideCelsius'>,
): string[] {
  if (fitted !== null) {
    const misfit = fitted.worstMisfitCelsius.toFixed(2);
    const doubt =
      fitted.readings === 2 ? ' (two readings always fit: take more to see whether it holds)' : '';
    return [`fitted to ${String(fitted.readings)} readings, the worst ${misfit} °C off${doubt}`];
  }
  if (exchange === null) return [];
  const flow = `${exchange.flow.toPrecision(3)} m³/s of air at first (Gosney and Olama, 1975)`;
  const change = outsideCelsius < startCelsius ? 'cool' : 'warm';
  return [`${flow}; the air alone, mixed through at once: walls and goods ${change} later`];
}

/** `−17.6 °C` */
function celsiusText(celsius: number): string {
  const rounded = Number(celsius.toFixed(1));
  return `${String(rounded).replace('-', '−')} °C`;
}

/** Rounded towards the side on which the limit is passed. */
function worstCelsiusText(celsius: number, { passed }: Limit): string {
  const tenths = Number((celsius * 10).toFixed(6));
  return celsiusText((passed === 'rising' ? Math.ceil(tenths) : Math.floor(tenths)) / 10);
}

const caveats =
  'Where this is wrong: the model has one temperature for the whole space and one time constant. Air reaches the temperature outside long before goods and walls do, and they hold it back less and less. Whatever freezes or melts stays at its melting point until all of it has melted, so for frozen goods a time constant says little. A door that moves, wind and a fan that runs all make it faster. Food and medicine: measure in the goods; local rules and licensed practice come first.';
