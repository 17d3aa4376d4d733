// The report of one replay for a terminal: the verdict first, then the numbers, then what happened and why.
import { durationText, roughDurationText } from '../../base/index.js';
import { costOf, currentText, isFlatBeforeEnd, lifeText } from '../../battery/index.js';
import { alertRows } from './alert-table.js';
import { plainCut } from './columns.js';
import { failureText, printedText } from './firmware-text.js';
import { dayAndTime } from './moments.js';
import { openingRows } from './opening-table.js';
import type { Paint } from './paint.js';
import { counted, numberText, plain } from './plain.js';
import type { ReplayView, ReportStyle } from './replay-view.js';
import { factsText } from './table-text.js';
import { verdictWords } from './verdict-words.js';

/** The most remarks on an input that are printed. */
const mostRemarks = 10;

/** The report part by part, so that one of a million rows need not be held as a whole. */
export function* replayReport(
  view: ReplayView,
  style: ReportStyle,
  paint: Paint,
): Generator<string> {
  const { summary } = view.verdict;
  yield* failureText(view, paint);
  yield `${paint.bold(plainCut(view.timeline.name, 200))}: ${verdictWords(summary, paint)}.\n`;
  yield `\n${factsText(replayFacts(view, paint), style.width)}`;
  yield* expectationsText(view, paint);
  yield* remarksText(view, paint);
  yield* openingRows(view, style, paint);
  yield* alertRows(view, style, paint);
  yield* printedText(view, paint);
}

/** The numbers of a verdict, one a row. */
export function replayFacts(view: ReplayView, paint: Paint): (readonly [string, string])[] {
  const { summary } = view.verdict;
  const { leaveOpenAfterMs, reportWithinMs } = view.watchFile.judge;
  const some = (count: number, colour: (text: string) => string) =>
    count === 0 ? '0' : colour(paint.bold(numberText(count)));
  const late =
    reportWithinMs === null ? '' : ` (told after more than ${durationText(reportWithinMs)})`;
  const rows: (readonly [string, string, boolean?])[] = [
    ['timeline', spanText(view)],
    ['firmware', plainCut(view.firmware?.file ?? '', 200), view.firmware !== null],
    [
      'watch file',
      view.watchName === null ? 'none given: the defaults apply' : plainCut(view.watchName, 200),
    ],
    [
      'leave-opens',
      `${numberText(summary.leaveOpens)} (${durationText(leaveOpenAfterMs)} or longer), of ${counted(summary.openings, 'opening')}`,
    ],
    ['reported', numberText(summary.reported)],
    ['late', `${some(summary.late, paint.bad)}${late}`],
    ['MISSED', some(summary.missed, paint.bad)],
    ['undecided at the end', some(summary.undecided, paint.doubtful), summary.undecided > 0],
    [
      'FALSE ALARMS',
      `${some(summary.falseAlarms, paint.bad)}, of ${counted(summary.alerts, 'alert')}`,
    ],
    ['early alerts', some(summary.earlyAlerts, paint.doubtful), summary.earlyAlerts > 0],
    ['repeated alerts', numberText(summary.repeats), summary.repeats > 0],
    [
      'worst detection latency',
      summary.worstDelayMs === null
        ? 'none: no leave-open was reported'
        : durationText(summary.worstDelayMs),
    ],
    ['battery life', batteryLifeText(view)],
    ['checks', numberText(summary.checks)],
  ];
  return rows.flatMap(([label, value, shown]) =>
    shown === false ? [] : [[label, value] as const],
  );
}

function batteryLifeText({ watchFile: { supply }, use }: ReplayView): string {
  if (supply === null) return 'not worked out: the watch file has no supply: section';
  const cost = costOf(use, supply);
  if (use.lengthMs === 0) return 'not worked out: the timeline has no length';
  const flat = isFlatBeforeEnd(cost)
    ? '; a full charge does not last to the end of this timeline'
    : '';
  return `${lifeText(cost.lifeMs)} on a charge at this timeline's average use, ${currentText(cost.meanNa)}${flat}`;
}

function spanText({ timeline, moments }: ReplayView): string {
  const { lengthMs } = timeline.world;
  const from = dayAndTime(moments(0));
  const to = dayAndTime(moments(lengthMs));
  return `${from} to ${to} (${roughDurationText(lengthMs)}), ${plain(timeline.start.timeZone)}`;
}

function* expectationsText({ unmet }: ReplayView, paint: Paint): Generator<string> {
  if (unmet === null) return;
  if (unmet.length === 0) {
    yield `\nWhat the scenario expects: ${paint.good('all met')}\n`;
    return;
  }
  yield `\nWhat the scenario expects: ${paint.bad(`${numberText(unmet.length)} unmet`)}\n`;
  for (const { name, wanted, got } of unmet) {
    yield `  ${plain(name)}: wanted ${plain(wanted)}, got ${paint.bad(plain(got))}\n`;
  }
}

function* remarksText({ timeline }: ReplayView, paint: Paint): Generator<string> {
  const { remarks } = timeline;
  if (remarks.length === 0) return;
  yield '\nOn the input\n';
  for (const { source, message, hint } of remarks.slice(0, mostRemarks)) {
    const place = source.line === undefined ? '' : paint.dim(`line ${String(source.line)}: `);
    yield `  ${place}${plainCut(message, 400)}${hint === undefined ? '' : paint.dim(` (${plainCut(hint, 400)})`)}\n`;
  }
  if (remarks.length > mostRemarks) {
    yield `  … and ${counted(remarks.length - mostRemarks, 'more', 'more')}\n`;
  }
}
