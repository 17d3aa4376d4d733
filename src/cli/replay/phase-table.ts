// The leave-opens over all phases, one a row.
import { numberText, roundedDurationText, sentence, writeDuration } from '../../base/index.js';
import {
  dayAndTime,
  falselyAlarming,
  leaveOpensAtPhases,
  phaseCells,
  phaseColumns,
  phasesSpan,
  type ReplayView,
} from '../../wording/index.js';
import type { ReportStyle } from '../layout/choose-rows.js';
import { chosenRows } from '../layout/choose-rows.js';
import type { Paint } from '../layout/paint.js';
import { paragraphText, tableText } from '../layout/table-text.js';
import { tableEnd } from './opening-table.js';

/** The section, or nothing if the phases were not judged. */
export function* phaseRows(view: ReplayView, style: ReportStyle, paint: Paint): Generator<string> {
  const every = view.phases?.areJudged === true ? view.phases.every : null;
  if (every === null) return;
  yield `\n${paint.bold('Every phase')}\n  ${phasesSpan(every, view)}\n`;
  const falsely = falselyAlarming(every, view);
  if (falsely !== null) yield paragraphText(sentence(falsely), style.width, '  ');
  yield alarmedText(view, style.width);
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
  const badOfNone = 'missed or late at any phase';
  yield* tableEnd(leaveOpens, { shown, isBad, bad: 'missed or late at some phases', badOfNone });
}

/** Where a false alarm can be seen that the phase of this replay does not have. */
function alarmedText({ phases, verdict, moments }: ReplayView, width: number): string {
  if (phases?.alarmed === undefined) return '';
  const { powerOnAtMs, opening } = phases.alarmed;
  const at = opening === null ? null : verdict.openings.at(opening);
  const what =
    opening === null || at === null
      ? 'while the door is shut'
      : `for no. ${numberText(opening + 1)} (${dayAndTime(moments(at.fromMs))}, open for ${roundedDurationText(at.durationMs)})`;
  const text = `One of the phases with a false alarm is that of a power-on at ${dayAndTime(moments(powerOnAtMs))}: it raises one ${what}. To see it, replay with --power-on-at ${writeDuration(powerOnAtMs)} in place of --every-phase.`;
  return paragraphText(text, width, '  ');
}
