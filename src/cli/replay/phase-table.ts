// The leave-opens over all phases, one a row.
import {
  leaveOpensAtPhases,
  phaseCells,
  phaseColumns,
  phasesSpan,
  type ReplayView,
} from '../../wording/index.js';
import type { ReportStyle } from '../layout/choose-rows.js';
import { chosenRows } from '../layout/choose-rows.js';
import type { Paint } from '../layout/paint.js';
import { tableText } from '../layout/table-text.js';
import { tableEnd } from './opening-table.js';

/** The section, or nothing if the phases were not judged. */
export function* phaseRows(view: ReplayView, style: ReportStyle, paint: Paint): Generator<string> {
  const every = view.phases?.areJudged === true ? view.phases.every : null;
  if (every === null) return;
  yield `\n${paint.bold('Every phase')}\n  ${phasesSpan(every, view)}\n`;
  const leaveOpens = leaveOpensAtPhases(every, view.verdict);
  if (leaveOpens.length === 0) return;
  const isBad = (index: number): boolean => {
    const { missedShare, reportedShare, inTimeShare } = every.openingAt(index);
    return missedShare !== 0 || reportedShare !== inTimeShare;
  };
  const shown = chosenRows(leaveOpens, isBad, style.rows);
  const rows = shown.map((index) => ({
    cells: phaseCells(view, every, { index, paint }),
    below: [],
  }));
  yield* tableText(phaseColumns(view, every), rows, style.width);
  yield* tableEnd(leaveOpens, { shown, isBad, bad: 'missed or late at some phases' });
}
