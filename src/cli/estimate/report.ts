// The report of `estimate` for a terminal: what a year brings first, then how sure that is, then the delays.
import {
  counted,
  durationText,
  figure,
  numberText,
  percentText,
  roughDurationText,
} from '../../base/index.js';
import {
  type Estimate,
  lacksLeaveOpens,
  leaveOpensAtMost,
  type Rate,
  type Share,
} from '../../estimate/index.js';
import {
  assumingText,
  knownText,
  plainCut,
  rateOrder,
  rateRows,
  rateWords,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';
import { delayChart } from './delay-chart.js';
import type { EstimateHead, EstimateView } from './view.js';

interface EstimateStyle {
  readonly width: number;
  readonly paint: Paint;
}

/** From this on events come in bursts rather than one by one: their interval is wider by a tenth or more. */
const bursts = 1.2;

export function estimateReport(view: EstimateView, style: EstimateStyle): string {
  const { estimate, head } = view;
  return [
    `${headline(view, style.paint)}\n`,
    `\n${factsText(facts(view), style.width)}`,
    `\nPer year\n${tableOf(
      'per year',
      rateRows(estimate, head).map((cells) => ({ cells, below: [] })),
      { estimate, width: style.width },
    )}`,
    `\nOf the leave-opens\n${sharesTable(estimate, head, style)}`,
    cautionsText(view, style.width),
    delaysText(estimate, style),
  ].join('');
}

function headline({ head, estimate }: EstimateView, paint: Paint): string {
  const { missed } = estimate.shares;
  const { falseAlarms } = estimate.rates;
  const name = plainCut(head.watch ?? 'the watch', 200);
  const share =
    missed.share === null
      ? `no leave-open in ${counted(estimate.years, 'simulated year')}, so nothing is known of misses`
      : `${paint.bold(shortShare(missed))} of leave-opens missed${between(missed, percentText)}${lateText(estimate)}`;
  const alarms = shortRate(falseAlarms);
  const rate = `${paint.bold(alarms)} ${alarms === '1' ? 'false alarm' : 'false alarms'} per year${between(falseAlarms, figure)}`;
  const assumed = assumingText(head.assumes.map((one) => plainCut(one, 400)));
  return `${paint.bold(name)}: ${share}, ${rate}${assumed}.`;
}

/** The interval of a figure that is more than an upper end. */
function between(
  { kind, low, high }: { readonly kind: string; readonly low: number; readonly high: number },
  text: (value: number, way: 'down' | 'up') => string,
): string {
  return kind === 'at-most' ? '' : ` (${text(low, 'down')} to ${text(high, 'up')})`;
}

function lateText({ shares }: Estimate): string {
  const { share } = shares.late;
  return share === null || share === 0 ? '' : `, ${percentText(share, 'up')} reported late`;
}

function shortShare({ kind, share, high }: Share): string {
  return kind === 'at-most' ? `at most ${percentText(high, 'up')}` : percentText(share ?? 0, 'up');
}

function shortRate({ kind, perYear, high }: Rate): string {
  return kind === 'at-most' ? `at most ${figure(high, 'up')}` : figure(perYear, 'up');
}

const stops = {
  years: '',
  precision: ', enough for the required precision',
  interrupt: ': interrupted, so this is of the years done so far',
} as const;

function facts({ head, log, estimate, stoppedBy }: EstimateView): (readonly [string, string])[] {
  const { years, openingsPerYear, leaveOpensPerYear } = estimate;
  const asked = years === head.yearsAsked ? '' : ` of ${numberText(head.yearsAsked)}`;
  const mishaps = [
    ...mishapText('outages', head.outages),
    ...mishapText('power losses', head.powerCuts),
  ];
  return [
    ['profile', plainCut(head.profile, 600)],
    ...fittedFacts(head),
    ...logFacts(log),
    ['device-years', `${numberText(years)}${asked}${stops[stoppedBy]}`],
    ['seed', plainCut(head.seed, 200)],
    ['openings', `${roundFigure(openingsPerYear)} per year`],
    [
      'leave-opens',
      `${roundFigure(leaveOpensPerYear)} per year (${durationText(head.leaveOpenAfterMs)} or longer)`,
    ],
    ['faults', mishaps.length === 0 ? noMishaps : mishaps.join(', ')],
  ];
}

/** The years have what options give, not what the watch file allows at worst. */
const noMishaps =
  'none (--outage-rate and --power-loss-rate add some; environment: in the watch file is for bounds)';

function fittedFacts({ fitted, resamples }: EstimateHead): (readonly [string, string])[] {
  if (fitted === null) return [];
  const { days, openings, leaveOpens } = fitted;
  const log = `${counted(openings, 'opening')} in ${daysText(days)}, ${counted(leaveOpens, 'leave-open')}`;
  const doubt =
    resamples === null
      ? '; the intervals take the profile as certain'
      : `; the intervals include what it leaves open (${numberText(resamples.count)} resamples of its days, ${counted(resamples.yearsEach, 'year')} each)`;
  return [['fitted to', `${log}${doubt}`]];
}

/** What happened in the log itself: no draw and no fit comes between. */
function logFacts(log: EstimateView['log']): (readonly [string, string])[] {
  if (log === null) return [];
  const { days, leaveOpens, expectedFalseAlarms, expectedMissed, expectedLate } = log;
  const of = (expected: number): string => figure(Number(expected.toPrecision(3)), 'up');
  const rate = (expected: number): string => of((expected * 365) / days);
  const late = expectedLate === 0 ? '' : `, ${of(expectedLate)} late`;
  const missed =
    leaveOpens === 0
      ? 'no leave-open'
      : `${of(expectedMissed)} of ${counted(leaveOpens, 'leave-open')} missed (${rate(expectedMissed)} per year)${late}`;
  return [
    [
      'the log itself',
      `in ${daysText(days)}, on average over every phase of the checks: ${of(expectedFalseAlarms)} false alarms (${rate(expectedFalseAlarms)} per year); ${missed}`,
    ],
  ];
}

/** Three figures: more are known only by chance. */
function roundFigure(value: number): string {
  return figure(Number(value.toPrecision(3)));
}

/** A log of less than a day counts as a day. */
function daysText(days: number): string {
  return days === 1 ? '1 day (a shorter log counts as one)' : `${figure(days)} days`;
}

function mishapText(what: string, mishaps: EstimateHead['outages']): readonly string[] {
  if (mishaps === null) return [];
  const { perYear, meanMs } = mishaps;
  return [`${figure(perYear)} ${what} per year, ${roughDurationText(meanMs)} on average`];
}

function sharesTable(estimate: Estimate, head: EstimateHead, { width }: EstimateStyle): string {
  const words = { missed: 'missed', late: `reported after ${limitText(head)}` } as const;
  const rows = (['missed', 'late'] as const)
    .filter((name) => name !== 'late' || head.reportWithinMs !== null)
    .map((name) => {
      const share = estimate.shares[name];
      const mean = share.count === 0 ? 'none seen' : percentText(share.share ?? 0, 'up');
      const seen = `${numberText(share.count)} of ${numberText(share.of)}`;
      // Of no leave-opens there is no share, not even a bound.
      const known = share.of === 0 ? 'nothing is known' : knownText(share, percentText);
      return { cells: [words[name], mean, known, seen], below: [] };
    });
  return tableOf('share', rows, { estimate, width });
}

function limitText({ reportWithinMs }: EstimateHead): string {
  return reportWithinMs === null ? '' : durationText(reportWithinMs);
}

function tableOf(
  what: string,
  rows: Parameters<typeof tableText>[1],
  { estimate, width }: { readonly estimate: Estimate; readonly width: number },
): string {
  const columns = [
    { title: '' },
    { title: what, align: 'right' },
    { title: `${percentText(estimate.confidence)} interval` },
    { title: 'seen', align: 'right' },
  ] as const;
  return [...tableText(columns, rows, width)].join('');
}

/** Fewer leave-opens than this are too few for a rate. */
const fewLeaveOpens = 10;
/** From here on the doubt of the profile is large enough to be named: a factor of two either way. */
const largeSpread = 0.35;

function cautionsText({ estimate, head }: EstimateView, width: number): string {
  const sentences = [...burstsOf(estimate), ...spreadOf(estimate), ...evidenceOf(estimate, head)];
  return sentences.map((sentence) => `\n${paragraphText(sentence, width)}`).join('');
}

function burstsOf({ rates }: Estimate): readonly string[] {
  const bursting = rateOrder.filter((name) => (rates[name].dispersion ?? 0) > bursts);
  if (bursting.length === 0) return [];
  const names = bursting.map((name) => rateWords[name]).join(', ');
  return [`These come in bursts, so the intervals of their yearly rates are wider: ${names}.`];
}

function spreadOf({ rates }: Estimate): readonly string[] {
  const unsure = rateOrder.filter((name) => (rates[name].profileSpread ?? 0) > largeSpread);
  if (unsure.length === 0) return [];
  const names = unsure.map((name) => rateWords[name]).join(', ');
  return [
    `The log leaves these open, more than the simulation does: ${names}. A longer log narrows their intervals; more years do not.`,
  ];
}

function evidenceOf(estimate: Estimate, { fitted }: EstimateHead): readonly string[] {
  const { years, confidence } = estimate;
  if (lacksLeaveOpens(estimate, fitted)) {
    const each = 365 / leaveOpensAtMost(fitted.days, confidence);
    const every = each < 2 ? figure(each, 'down') : String(Math.floor(each));
    return [
      `The log has ${figure(fitted.days, 'down')} days without a leave-open: at most 1 in ${every} days (${percentText(confidence)}). Write what you know of them into the profile (leaveOpen:) to estimate misses.`,
    ];
  }
  const { of } = estimate.shares.missed;
  if (of >= fewLeaveOpens) return [];
  const few = of === 0 ? 'No leave-open' : counted(of, 'leave-open');
  return [`${few} in ${counted(years, 'year')}: too few for a rate of misses or a share.`];
}

/** A shortest latency under this part of that of the soonest 5 % is out of line with the others. */
const outOfLine = 0.9;

function soonText({ leastMs, percentiles: [soonest] }: Estimate['delays']): string {
  const isSoon = leastMs !== null && leastMs < outOfLine * (soonest?.ms ?? 0);
  return isSoon ? ' (sooner than at rest: open checks of an earlier opening still counted)' : '';
}

function delaysText({ delays, shares }: Estimate, { width }: EstimateStyle): string {
  const { count, leastMs, worstMs } = delays;
  if (leastMs === null || worstMs === null) {
    return '\nNo leave-open was reported, so there are no detection latencies to show.\n';
  }
  const rows = delays.percentiles.map(
    ({ percent, ms, lowMs, highMs }) =>
      [
        `${String(percent)} % within`,
        `${roughDurationText(ms ?? 0, 'at most')} (${roughDurationText(lowMs ?? 0)} to ${highMs === null ? 'unknown' : roughDurationText(highMs, 'at most')})`,
      ] as const,
  );
  const ends = [
    ['shortest', `${roughDurationText(leastMs, 'at least')}${soonText(delays)}`],
    ['worst seen', roughDurationText(worstMs, 'at most')],
  ] as const;
  const late = shares.late.count === 0 ? '' : `, ${numberText(shares.late.count)} of them late`;
  const title = `Detection latencies of the ${counted(count, 'leave-open')} that were reported${late}`;
  return `\n${title}\n${factsText([...rows, ...ends], width)}\n${delayChart(delays, width)}`;
}
