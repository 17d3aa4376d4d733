// The report of `estimate` for a terminal: what a year brings first, then how sure that is, then the delays.
import { counted, durationText, numberText, roughDurationText } from '../../base/index.js';
import type { Estimate, Rate, Share } from '../../estimate/index.js';
import {
  figure,
  knownText,
  percentText,
  plainCut,
  rateOrder,
  rateRows,
  rateWords,
} from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { factsText, tableText } from '../layout/table-text.js';
import { delayChart } from './delay-chart.js';
import type { EstimateHead, EstimateView } from './view.js';

interface EstimateStyle {
  readonly width: number;
  readonly paint: Paint;
}

/** From this on events come in bursts rather than one by one. */
const bursts = 1.5;

export function estimateReport(view: EstimateView, style: EstimateStyle): string {
  const { estimate, head } = view;
  return [
    `${headline(view, style.paint)}\n`,
    `\n${factsText(facts(view), style.width)}`,
    `\nIn a year\n${tableOf(
      'a year',
      rateRows(estimate, head).map((cells) => ({ cells, below: [] })),
      { estimate, width: style.width },
    )}`,
    `\nOf the leave-opens\n${sharesTable(estimate, head, style)}`,
    burstsText(estimate),
    delaysText(estimate, style),
  ].join('');
}

function headline({ head, estimate }: EstimateView, paint: Paint): string {
  const { missed } = estimate.shares;
  const { falseAlarms } = estimate.rates;
  const name = plainCut(head.watch ?? 'the watch', 200);
  const share =
    missed.share === null
      ? 'no leave-opens came up'
      : `${paint.bold(shortShare(missed))} of leave-opens missed`;
  return `${paint.bold(name)}: ${share}, ${paint.bold(shortRate(falseAlarms))} false alarms a year.`;
}

function shortShare({ kind, share, high }: Share): string {
  return kind === 'at-most' ? `at most ${percentText(high, 'up')}` : percentText(share ?? 0, 'up');
}

function shortRate({ kind, perYear, high }: Rate): string {
  return kind === 'at-most' ? `at most ${figure(high, 'up')}` : figure(perYear, 'up');
}

const stops = {
  years: '',
  precision: ', enough for the precision asked',
  interrupt: ': interrupted, so this is of the years done so far',
} as const;

function facts({ head, estimate, stoppedBy }: EstimateView): (readonly [string, string])[] {
  const { years, openingsPerYear, leaveOpensPerYear } = estimate;
  const asked = years === head.yearsAsked ? '' : ` of ${numberText(head.yearsAsked)}`;
  const mishaps = [
    ...mishapText('outages', head.outages),
    ...mishapText('power losses', head.powerCuts),
  ];
  return [
    ['profile', plainCut(head.profile, 600)],
    ['device-years', `${numberText(years)}${asked}${stops[stoppedBy]}`],
    ['seed', plainCut(head.seed, 200)],
    ['openings', `${figure(openingsPerYear)} a year`],
    [
      'leave-opens',
      `${figure(leaveOpensPerYear)} a year (${durationText(head.leaveOpenAfterMs)} or longer)`,
    ],
    ['besides', mishaps.length === 0 ? 'no outages, no power cuts' : mishaps.join(', ')],
  ];
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
    { title: `${percentText(estimate.confidence)} sure` },
    { title: 'seen', align: 'right' },
  ] as const;
  return [...tableText(columns, rows, width)].join('');
}

function burstsText({ rates }: Estimate): string {
  const bursting = rateOrder.filter((name) => (rates[name].dispersion ?? 0) > bursts);
  if (bursting.length === 0) return '';
  const names = bursting.map((name) => rateWords[name]).join(', ');
  return `\nThese come in bursts, so that their interval a year is too narrow: ${names}.\n`;
}

function delaysText({ delays }: Estimate, { width }: EstimateStyle): string {
  const { count, leastMs, worstMs } = delays;
  if (leastMs === null || worstMs === null) {
    return '\nNo leave-open was reported, so that there are no delays to show.\n';
  }
  const rows = delays.percentiles.map(
    ({ percent, ms }) =>
      [`${String(percent)} % within`, roughDurationText(ms ?? 0, 'at most')] as const,
  );
  const ends = [
    ['shortest', durationText(leastMs)],
    ['worst seen', durationText(worstMs)],
  ] as const;
  const title = `Delays of the ${counted(count, 'leave-open')} that were reported`;
  return `\n${title}\n${factsText([...rows, ...ends], width)}\n${delayChart(delays, width)}`;
}
