// The leave-opens of a replay, one a row, with the reason below each that was missed or late.
import { counted, numberText, plain, roundedDurationText } from '../../base/index.js';
import type { JudgedOpening, OpeningOutcome } from '../../verdict/index.js';
import { dayAndTime, plainCut, type ReplayView, timeAfter } from '../../wording/index.js';
import type { ReportStyle } from '../layout/choose-rows.js';
import { chosenRows } from '../layout/choose-rows.js';
import type { Paint } from '../layout/paint.js';
import { type Row, tableText } from '../layout/table-text.js';

const columns = [
  { title: 'no.', align: 'right' as const },
  { title: 'opened' },
  { title: 'shut' },
  { title: 'open for', align: 'right' as const },
  { title: 'outcome' },
  { title: 'detection latency' },
];

/** The section, or nothing when the door was never left open. */
export function* openingRows(
  view: ReplayView,
  style: ReportStyle,
  paint: Paint,
): Generator<string> {
  const { openings } = view.verdict;
  const { unknown } = openings;
  const leaveOpens =
    unknown.length === 0
      ? openings.leaveOpens
      : [...openings.leaveOpens, ...unknown].sort((a, b) => a - b);
  if (leaveOpens.length === 0) return;
  const isBad = (index: number): boolean => outcomeIsBad(openings.at(index).outcome);
  const shown = chosenRows(leaveOpens, isBad, style.rows);
  const title = unknown.length === 0 ? 'Leave-opens' : 'Leave-opens and unknown openings';
  yield `\n${paint.bold(title)}\n`;
  yield* tableText(columns, rowsOf(view, shown, paint), style.width);
  yield* tableEnd(leaveOpens, { shown, isBad, bad: 'missed or late' });
  yield reasonsNote(shown.filter(isBad).length, sentences(view, 'opening').size);
}

/** How many rows were left out, and how many of those matter. */
export function* tableEnd(
  all: readonly number[],
  on: {
    readonly shown: readonly number[];
    readonly isBad: (index: number) => boolean;
    readonly bad: string;
    /** The same where it goes for none of them; default: `bad`. */
    readonly badOfNone?: string;
  },
): Generator<string> {
  const rest = all.length - on.shown.length;
  if (rest === 0) return;
  const badRest = all.filter(on.isBad).length - on.shown.filter(on.isBad).length;
  const ofThem =
    badRest === 0
      ? `none of them ${on.badOfNone ?? on.bad}`
      : `${numberText(badRest)} of them ${on.bad}`;
  yield `  … and ${counted(rest, 'more', 'more')}, ${ofThem} (--all shows all)\n`;
}

/** How many rows have a reason, where some have none. */
export function reasonsNote(wanted: number, given: number): string {
  return wanted <= given ? '' : `  (only the first ${numberText(given)} have their reasons here)\n`;
}

function outcomeIsBad(outcome: OpeningOutcome): boolean {
  return outcome === 'missed' || outcome === 'unpowered' || outcome === 'late';
}

function* rowsOf(view: ReplayView, shown: readonly number[], paint: Paint): Generator<Row> {
  const why = sentences(view, 'opening');
  for (const index of shown) {
    const opening = view.verdict.openings.at(index);
    const sentence = why.get(index);
    const note = view.timeline.notes.get(index);
    yield {
      cells: [numberText(index + 1), ...cellsOf(view, opening, paint)],
      below: [
        ...(note === undefined ? [] : [paint.dim(`note: ${plainCut(note, 400)}`)]),
        ...(sentence === undefined ? [] : [`why: ${plain(sentence)}`]),
      ],
    };
  }
}

function cellsOf({ moments }: ReplayView, opening: JudgedOpening, paint: Paint): string[] {
  const { fromMs, toMs, durationMs, outcome, delayMs } = opening;
  const opened = moments(fromMs);
  return [
    dayAndTime(opened),
    toMs === null ? 'still open' : timeAfter(moments(toMs), opened),
    roundedDurationText(durationMs, 'at least'),
    outcomeText(outcome, paint),
    delayMs === null ? 'none' : roundedDurationText(delayMs, 'at most'),
  ];
}

function outcomeText(outcome: OpeningOutcome, paint: Paint): string {
  switch (outcome) {
    case 'missed':
      return paint.bad(paint.bold('MISSED'));
    case 'unpowered':
      return paint.bad(paint.bold('MISSED, no charge'));
    case 'late':
      return paint.bad('late');
    case 'undecided':
      return paint.doubtful('undecided');
    case 'reported':
      return paint.good('reported');
    case 'brief':
      return 'brief';
    case 'unknown':
      return paint.doubtful('unknown');
  }
}

/** The sentence for each explained opening or alert, by its index. */
export function sentences(
  { explanations }: ReplayView,
  kind: 'opening' | 'alert',
): ReadonlyMap<number, string> {
  const own = explanations.filter(({ subject }) => subject.kind === kind);
  return new Map(own.map(({ subject, sentence }) => [subject.index, sentence]));
}
