// The report of one replay for a terminal: the verdict first, then the numbers, then what happened and why.
import { counted, numberText, plain, roughDurationText, sentence } from '../../base/index.js';
import {
  dayAndTime,
  happenedWords,
  phaseSentence,
  phasesWords,
  plainCut,
  type ReplayView,
  replayFacts,
  timeAfter,
  verdictWords,
  withProof,
} from '../../wording/index.js';
import { noSpans } from '../../world/index.js';
import { givenName } from '../inputs/load-timeline.js';
import type { ReportStyle } from '../layout/choose-rows.js';
import type { Paint } from '../layout/paint.js';
import { factsText } from '../layout/table-text.js';
import { alertRows } from './alert-table.js';
import { decidingText, failureText, printedText } from './firmware-text.js';
import { openingRows } from './opening-table.js';
import { phaseRows } from './phase-table.js';

/** Of remarks that decide the whole verdict: how a log's words were taken, and what resets were taken to do. */
const leading: Readonly<Record<string, string>> = {
  'yes-means-closed': 'States',
  'reset-decides': 'Resets',
};

/** The most remarks on an input that are printed. */
const mostRemarks = 10;

/** The report part by part, so that one of a million rows need not be held as a whole. */
export function* replayReport(
  view: ReplayView,
  style: ReportStyle,
  paint: Paint,
): Generator<string> {
  yield* failureText(view, paint);
  yield* verdictText(view, paint);
  yield* wordsText(view, paint);
  yield `\n${factsText(replayFacts(view, paint), style.width)}`;
  yield* expectationsText(view, paint);
  yield* remarksText(view, paint);
  yield* gapsText(view, style.rows);
  yield* openingRows(view, style, paint);
  yield* phaseRows(view, style, paint);
  yield* alertRows(view, style, paint);
  yield* decidingText(view);
  yield* printedText(view, paint);
}

/** The verdict in its two parts, then which phase of the checks this is. */
function* verdictText(view: ReplayView, paint: Paint): Generator<string> {
  const name = paint.bold(plainCut(givenName(view.timeline), 200));
  const every = view.phases?.areJudged === true ? view.phases.every : null;
  if (every === null) {
    yield `${name}: ${verdictWords(view, paint)}.\n`;
    const phase = phaseSentence(view);
    if (phase !== null) yield `Phase: ${phase}.\n`;
    return;
  }
  yield `${name}: ${withProof(phasesWords(every, view, paint), view, paint)}.\n`;
  const at = dayAndTime(view.moments(view.timeline.world.powerOnAtMs));
  yield `At one phase (power-on ${at}), as below: ${happenedWords(view, paint)}.\n`;
}

function* expectationsText({ unmet }: ReplayView, paint: Paint): Generator<string> {
  if (unmet === null) return;
  if (unmet.length === 0) {
    yield `\nWhat the scenario expects: ${paint.good('all met')}\n`;
    return;
  }
  yield `\nWhat the scenario expects: ${paint.bad(`${numberText(unmet.length)} NOT met`)}\n`;
  for (const { name, wanted, got } of unmet) {
    yield `  ${plain(name)}: expected ${plain(wanted)}, got ${paint.bad(plain(got))}\n`;
  }
}

function* wordsText({ timeline }: ReplayView, paint: Paint): Generator<string> {
  for (const { code, message, hint } of timeline.remarks) {
    const label = leading[code];
    if (label === undefined) continue;
    const more = hint === undefined ? '' : paint.dim(` ${sentence(plainCut(hint, 400))}`);
    yield `${label}: ${plainCut(message, 400)}.${more}\n`;
  }
}

/** The spans of which a log knows nothing. */
function* gapsText({ timeline, moments }: ReplayView, most: number): Generator<string> {
  const { fromMs, toMs } = timeline.logged?.unavailable ?? noSpans;
  if (fromMs.length === 0) return;
  yield '\nThe log has no state\n';
  for (const [index, from] of fromMs.entries()) {
    if (index === most) {
      yield `  … and ${counted(fromMs.length - most, 'more', 'more')} (--all shows all)\n`;
      return;
    }
    const { lengthMs } = timeline.world;
    const to = Math.min(toMs[index] ?? lengthMs, lengthMs);
    const start = moments(from);
    yield `  ${dayAndTime(start)} to ${timeAfter(moments(to), start)} (${roughDurationText(to - from)})\n`;
  }
}

function* remarksText({ timeline }: ReplayView, paint: Paint): Generator<string> {
  const remarks = timeline.remarks.filter(({ code }) => leading[code] === undefined);
  if (remarks.length === 0) return;
  yield '\nAbout the input\n';
  for (const { source, message, hint } of remarks.slice(0, mostRemarks)) {
    const place = source.line === undefined ? '' : paint.dim(`line ${String(source.line)}: `);
    yield `  ${place}${plainCut(message, 400)}${hint === undefined ? '' : paint.dim(` (${plainCut(hint, 400)})`)}\n`;
  }
  if (remarks.length > mostRemarks) {
    yield `  … and ${counted(remarks.length - mostRemarks, 'more', 'more')}\n`;
  }
}
