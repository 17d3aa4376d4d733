// The report of `estimate` for a terminal: what a year brings first, then how sure that is, then the delays.
import {
  counted,
  durationText,
  figure,
  listText,
  numberText,
  percentText,
  type Rounded,
  roughDurationText,
  roundedDurationText,
  sentence,
  shellWord,
} from '../../base/index.js';
import {
  type Estimate,
  type Estimated,
  type EventName,
  isTooShort,
  lacksLeaveOpens,
  type Rate,
  rarestShown,
  type Share,
} from '../../estimate/index.js';
import {
  assumingText,
  falseAlarmsEach,
  isOpenInLog,
  knownText,
  lostText,
  missedOtherwise,
  plainCut,
  rateOrder,
  rateRows,
  spanText,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';
import { onceIn } from '../profile/words.js';
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
    delaysText(estimate, head, style),
  ].join('');
}

function headline({ head, estimate }: EstimateView, paint: Paint): string {
  const { missed } = estimate.shares;
  const { falseAlarms } = estimate.rates;
  const name = plainCut(head.watch ?? 'the watch', 200);
  const share =
    missed.share === null
      ? `no leave-open in ${counted(estimate.years, 'simulated year')}, so the share of misses is unknown${mostMissed(estimate, head.fitted)}`
      : `${paint.bold(shortShare(missed))} of leave-opens missed${between(missed, percentText, estimate)}${lateText(estimate)}`;
  const alarms = shortRate(falseAlarms);
  const rate = `${paint.bold(alarms)} ${alarms === '1' ? 'false alarm' : 'false alarms'} per year${between(falseAlarms, figure, estimate)}`;
  const assumed = assumingText(head.assumes.map((one) => plainCut(one, 400)));
  return `${paint.bold(name)}: ${share}; ${rate}${assumed}.`;
}

/** The bound that the table has: no more can be missed than there may be leave-opens. */
function mostMissed(estimate: Estimate, fitted: EstimateHead['fitted']): string {
  const { missed } = estimate.rates;
  if (missed.kind !== 'at-most') return '';
  const why = lacksLeaveOpens(estimate, fitted) ? ', as many as there may be leave-opens' : '';
  return ` (${shortRate(missed)} misses per year${why})`;
}

/** How sure a figure is, and its interval if it is more than an upper end. */
function between(
  known: Estimated,
  text: (value: number, way: Rounded) => string,
  { confidence }: Estimate,
): string {
  const sure = percentText(confidence);
  return known.kind === 'at-most' ? ` (${sure})` : ` (${sure}: ${spanText(known, text)})`;
}

function lateText(estimate: Estimate): string {
  const { late } = estimate.shares;
  if (late.share === null || late.share === 0) return '';
  return `, ${percentText(late.share, 'up')} reported late${between(late, percentText, estimate)}`;
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
  const { years, openingsPerYear } = estimate;
  const asked = years === head.yearsAsked ? '' : ` of ${numberText(head.yearsAsked)}`;
  const mishaps = [
    ...mishapText('outages', head.outages),
    ...mishapText('power losses', head.powerCuts),
  ];
  return [
    ['profile', plainCut(head.profile, 600)],
    ...fittedFacts(head),
    ...logFacts(log, head),
    ['device-years', `${numberText(years)}${asked}${stops[stoppedBy]}`],
    ['seed', plainCut(head.seed, 200)],
    ['openings', openingsText(openingsPerYear, head)],
    ['leave-opens', leaveOpensText(estimate, head)],
    ['faults', mishaps.length === 0 ? noMishaps : mishaps.join(', ')],
  ];
}

/** Above this ratio of what is drawn to what the log has, a line says how many the log has. */
const moreThanLogged = 1.1;

/** Where the years have more or fewer than the log, both. */
function openingsText(perYear: number, { fitted }: EstimateHead): string {
  const text = `${roundFigure(perYear)} per year`;
  const isOfLog = fitted !== null && fitted.isWritten !== true;
  const logged = isOfLog ? (fitted.openings * 365) / fitted.days : 0;
  const isUnlike = perYear > moreThanLogged * logged || logged > moreThanLogged * perYear;
  return logged > 0 && isUnlike
    ? `${text}; the log itself has ${roundFigure(logged)} (--profile-from LOG --as-logged simulates days of the log)`
    : text;
}

/** Of a log, how many they may be. */
function leaveOpensText(
  { leaveOpensPerYear, leaveOpens, confidence }: Estimate,
  { leaveOpenAfterMs, fitted }: EstimateHead,
): string {
  const known =
    fitted === null ? '' : `; ${percentText(confidence)}: ${knownText(leaveOpens, figure)}`;
  // Leave-opens that somebody wrote into the profile are not those of the log.
  const isOfLog = fitted !== null && fitted.isWritten !== true;
  const logged = isOfLog ? (fitted.leaveOpens * 365) / fitted.days : 0;
  const more =
    logged > 0 && leaveOpensPerYear > moreThanLogged * logged
      ? `; the log itself has ${roundFigure(logged)} per year`
      : '';
  return `${roundFigure(leaveOpensPerYear)} per year (${durationText(leaveOpenAfterMs)} or longer${known}${more})`;
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
      ? 'take the profile as certain'
      : `include what a log of this length leaves open: ${counted(resamples.yearsEach, 'year')} of each of ${numberText(resamples.count)} other profiles that it could have led to`;
  return [
    ['its log', `${log} (profile shows how well it fits)`],
    ['intervals', doubt],
  ];
}

/** What happened in the log itself: no draw and no fit comes between. */
function logFacts(
  log: EstimateView['log'],
  { fitted, everyPhase }: EstimateHead,
): (readonly [string, string])[] {
  if (log === null) return [];
  if (log === 'too-long') {
    const days = fitted === null ? 'the log' : daysText(fitted.days);
    return [
      [
        'the log itself',
        `not judged, since ${days} at every phase of the checks take long${everyPhase === null ? '' : `: ${everyPhase}`}`,
      ],
    ];
  }
  const { days, leaveOpens, expectedFalseAlarms, expectedMissed, expectedLate, over } = log;
  const ranges = over === undefined ? '' : ` and ${over}`;
  const of = (expected: number): string => figure(expected, 'up');
  const rate = (expected: number): string => ` (${of((expected * 365) / days)} per year)`;
  const late = expectedLate === 0 ? '' : `, ${figure(expectedLate, 'down')} late`;
  const all = counted(leaveOpens, 'leave-open');
  const missed =
    leaveOpens === 0
      ? 'no leave-open'
      : expectedMissed === 0
        ? `none of ${all} missed${late}`
        : `${of(expectedMissed)} of ${all} missed${rate(expectedMissed)}${late}`;
  const alarms =
    expectedFalseAlarms === 0
      ? 'no false alarm'
      : `${of(expectedFalseAlarms)} false alarms${rate(expectedFalseAlarms)}`;
  return [
    [
      'the log itself',
      `in ${daysText(days)}, on average over every phase of the checks${ranges}: ${alarms}; ${missed}`,
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

/** Fewer leave-opens than this in a log show little of how long they last. */
const fewLogged = 30;
/** Fewer leave-opens than this are too few for a rate. */
const fewLeaveOpens = 10;

/** Per year says little of one opening. */
function alarmsOf(estimate: Estimate, { leaveOpenAfterMs }: EstimateHead): readonly string[] {
  const { rates, openingsPerYear, leaveOpensPerYear } = estimate;
  const each = falseAlarmsEach({
    openings: openingsPerYear,
    leaveOpens: leaveOpensPerYear,
    falseAlarms: rates.falseAlarms.perYear,
  });
  if (each === null) return [];
  return [
    `Of the openings shorter than ${durationText(leaveOpenAfterMs)}, ${percentText(each, 'up')} ended in a false alarm.`,
  ];
}

function cautionsText({ estimate, head }: EstimateView, width: number): string {
  const sentences = [
    ...alarmsOf(estimate, head),
    ...causeOf(estimate, head),
    ...burstsOf(estimate),
    ...spreadOf(estimate),
    ...logLimits(estimate, head),
    ...evidenceOf(estimate, head),
  ];
  return sentences.map((sentence) => `\n${paragraphText(sentence, width)}`).join('');
}

function burstsOf({ rates }: Estimate): readonly string[] {
  const bursting = rateOrder.filter((name) => (rates[name].dispersion ?? 0) > bursts);
  if (bursting.length === 0) return [];
  return [
    `${sentenceStart(bursting)} come in bursts, so the interval of ${bursting.length === 1 ? 'that rate is' : 'each of these rates is'} wider.`,
  ];
}

/** `Early alerts`, `Missed leave-opens and early alerts` */
function sentenceStart(names: readonly EventName[]): string {
  const words = listText(names.map((name) => spoken[name]));
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

const spoken: Readonly<Record<EventName, string>> = {
  missed: 'missed leave-opens',
  late: 'late reports',
  falseAlarms: 'false alarms',
  earlyAlerts: 'early alerts',
  repeats: 'repeated alerts',
};

function spreadOf({ rates }: Estimate): readonly string[] {
  const unsure = rateOrder.filter((name) => isOpenInLog(rates[name]));
  if (unsure.length === 0) return [];
  return [
    `Most of the doubt is from the length of the log (${listText(unsure.map((name) => spoken[name]))}): a longer log narrows it, more --years do not.`,
  ];
}

/** Why leave-opens are missed, as far as a proof shows it. */
function causeOf(
  { rates, missedByLoss: byLoss = 0 }: Estimate,
  { sureAtRest, watch, assumes }: EstimateHead,
): readonly string[] {
  const missed = rates.missed.count;
  if (missed === 0) return [];
  const lost = byLoss === 0 ? [] : [`${sentence(lostText({ missed, byLoss }))}.`];
  if (sureAtRest === null) return lost;
  const bounds = `dozewatch bounds${watch === null ? '' : ` -c ${shellWord(watch)}`}`;
  return sureAtRest
    ? [
        `The simulated years miss leave-opens although none is missed at rest (${bounds} proves that): ${missedOtherwise(assumes, { missed, byLoss })}.`,
      ]
    : [
        `Even at rest not every leave-open is sure to be reported: ${bounds} proves from which length on it is.`,
        ...lost,
      ];
}

/** Where the log itself, and not what is fitted to it, sets an end of an interval. */
function logLimits(
  { confidence, rates, leaveOpens }: Estimate,
  { fitted }: EstimateHead,
): readonly string[] {
  if (fitted === null) return [];
  const sure = percentText(confidence);
  const rare = rarestShown(fitted.days, confidence);
  const all = counted(fitted.openings, 'opening');
  if (isTooShort(fitted)) {
    return [
      `${all} in ${daysText(fitted.days)} show little. Of anything that did not happen in them, up to ${figure(rare, 'up')} per year could still show none in so short a log (${sure}).`,
    ];
  }
  const many = rates.repeats.high > leaveOpens.high && fitted.leaveOpens < fewLogged;
  return [
    ...(rates.falseAlarms.high === rare
      ? [
          `A log of ${daysText(fitted.days)} cannot rule out ${figure(rare, 'up')} false alarms per year (${sure}), so the interval reaches that far.`,
        ]
      : []),
    ...(many
      ? [
          `One leave-open can repeat its alert many times. How often depends on how long it lasts, of which the log shows ${counted(fitted.leaveOpens, 'example')}.`,
        ]
      : []),
  ];
}

function evidenceOf(estimate: Estimate, { fitted }: EstimateHead): readonly string[] {
  const { years, confidence } = estimate;
  if (lacksLeaveOpens(estimate, fitted)) {
    const each = 365 / rarestShown(fitted.days, confidence);
    return [
      `The log has no leave-open in ${figure(fitted.days, 'down')} days, but even a door left open ${onceIn(each)} can show none in that time (${percentText(confidence)}). Each leave-open may be missed, or its alert repeated. Write what you know of them into the profile (leaveOpen:) to estimate misses.`,
    ];
  }
  const { of } = estimate.shares.missed;
  if (of >= fewLeaveOpens) return [];
  const few = of === 0 ? 'No leave-open' : counted(of, 'leave-open');
  return [`${few} in ${counted(years, 'year')}: too few for a rate of misses or a share.`];
}

/** A shortest latency under this part of that of the soonest 5 % is out of line with the others. */
const outOfLine = 0.9;

function soonText(
  { leastMs, percentiles: [soonest] }: Estimate['delays'],
  { bestAtRestMs: best }: EstimateHead,
): string {
  if (leastMs !== null && best !== null && leastMs < best) {
    return ` (sooner than the best latency at rest, ${roundedDurationText(best, 'at least')}, which bounds proves: this opening found the device otherwise, such as just after another opening or with a fault)`;
  }
  const isSoon = leastMs !== null && leastMs < outOfLine * (soonest?.ms ?? 0);
  return isSoon
    ? ' (much sooner than most: a check came right after the door opened, or open checks of an earlier opening still counted)'
    : '';
}

function delaysText(
  { delays, shares }: Estimate,
  head: EstimateHead,
  { width }: EstimateStyle,
): string {
  const { count, leastMs, worstMs } = delays;
  if (leastMs === null || worstMs === null) {
    return '\nNo leave-open was reported, so there are no detection latencies to show.\n';
  }
  const rows = delays.percentiles.map(
    ({ percent, ms, lowMs, highMs }) =>
      [
        `${String(percent)} % within`,
        `${roundedDurationText(ms ?? 0, 'at most')} (${roundedDurationText(lowMs ?? 0)} to ${highMs === null ? 'unknown' : roundedDurationText(highMs, 'at most')})`,
      ] as const,
  );
  const ends = [
    ['soonest seen', `${roundedDurationText(leastMs, 'at least')}${soonText(delays, head)}`],
    ['worst seen', roundedDurationText(worstMs, 'at most')],
  ] as const;
  const late = shares.late.count === 0 ? '' : `, ${numberText(shares.late.count)} of them late`;
  const title = `Detection latencies of the ${counted(count, 'leave-open')} that were reported${late}`;
  return `\n${title}\n${factsText([...rows, ...ends], width)}\n${delayChart(delays, width)}`;
}
