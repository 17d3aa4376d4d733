// The alerts of a replay, one a row, with the reason below each that was false.
import { invariant, numberText, plain } from '../../base/index.js';
import type { AlertRecord } from '../../sim/index.js';
import type { AlertKind, JudgedAlert } from '../../verdict/index.js';
import { dayAndTime, type ReplayView, timeAfter } from '../../wording/index.js';
import type { ReportStyle } from '../layout/choose-rows.js';
import { chosenRows } from '../layout/choose-rows.js';
import type { Paint } from '../layout/paint.js';
import { type Row, tableText } from '../layout/table-text.js';
import { reasonsNote, sentences, tableEnd } from './opening-table.js';

const columns = [
  { title: 'no.', align: 'right' as const },
  { title: 'decided' },
  { title: 'delivered' },
  { title: 'kind' },
  { title: 'attempts', align: 'right' as const },
  { title: 'opening' },
];

/** The section, or nothing when there was no alert. */
export function* alertRows(view: ReplayView, style: ReportStyle, paint: Paint): Generator<string> {
  const { alerts } = view.verdict;
  if (alerts.length === 0) return;
  const isBad = (index: number): boolean => alerts[index]?.kind === 'false';
  const all = Array.from(alerts.keys());
  const shown = chosenRows(all, isBad, style.rows);
  yield `\n${paint.bold('Alerts')}\n`;
  yield* tableText(columns, rowsOf(view, shown, paint), style.width);
  yield* tableEnd(all, { shown, isBad, bad: 'false' });
  yield reasonsNote(shown.filter(isBad).length, sentences(view, 'alert').size);
}

function* rowsOf(view: ReplayView, shown: readonly number[], paint: Paint): Generator<Row> {
  const why = sentences(view, 'alert');
  for (const index of shown) {
    const alert = view.verdict.alerts[index];
    const record = view.alerts[index];
    invariant(alert !== undefined && record !== undefined, 'a judged alert has its record', {
      index,
    });
    const sentence = why.get(index);
    yield {
      cells: [numberText(index + 1), ...cellsOf(view, alert, { record, paint })],
      below: sentence === undefined ? [] : [`why: ${plain(sentence)}`],
    };
  }
}

function cellsOf(
  { moments }: ReplayView,
  { decidedMs, kind, opening }: JudgedAlert,
  on: { readonly record: AlertRecord; readonly paint: Paint },
): string[] {
  const decided = moments(decidedMs);
  const { deliveredMs, droppedMs, forgottenMs, attempts } = on.record;
  const undelivered =
    droppedMs !== null ? 'dropped' : forgottenMs !== null ? 'lost with memory' : 'not yet';
  return [
    dayAndTime(decided),
    deliveredMs === null
      ? on.paint.doubtful(undelivered)
      : timeAfter(moments(deliveredMs), decided),
    kindText(kind, on.paint),
    numberText(attempts.length),
    opening === null ? 'none (shut)' : `no. ${numberText(opening + 1)}`,
  ];
}

function kindText(kind: AlertKind, paint: Paint): string {
  switch (kind) {
    case 'false':
      return paint.bad(paint.bold('FALSE'));
    case 'early':
      return paint.doubtful('decided early');
    case 'true':
      return paint.good('true');
    case 'repeat':
      return 'repeat';
    case 'unknown':
      return paint.doubtful('unknown');
  }
}
