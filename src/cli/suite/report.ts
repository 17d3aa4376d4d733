// A suite's findings for a terminal: a line for each scenario, with what was expected and what it got below the ones that failed.

import { counted, plain } from '../../base/index.js';
import { columnsOf, plainCut } from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import {
  type CaseOutcome,
  errorLine,
  nameOf,
  outcomeOf,
  type SuiteCase,
  unmetText,
} from './case.js';

/** @param how.width columns of a terminal; a file that does not fit beside its scenario's name stands below it. */
export function* suiteReport(
  cases: readonly SuiteCase[],
  how: { readonly paint: Paint; readonly width: number },
): Generator<string> {
  const { paint } = how;
  for (const one of cases) yield* caseText(one, how);
  yield `\n${closingLine(cases, paint)}\n`;
  if (cases.some(({ result }) => result.kind === 'judged' && result.picked !== undefined)) {
    yield `${paint.dim(pickedNote)}\n`;
  }
}

const pickedNote =
  'The watch file has ranges: each scenario ran with one clock error of its range and its own times, picked at random with its seed (dozewatch replay prints them).';

function* caseText(
  one: SuiteCase,
  { paint, width }: { readonly paint: Paint; readonly width: number },
): Generator<string> {
  const { result } = one;
  const title = `${markOf(outcomeOf(one), paint)}  ${plainCut(nameOf(one), 200)}`;
  const path = nameOf(one) === one.path ? '' : `  ${plainCut(one.path, 200)}`;
  const gap = columnsOf(title + path) > width ? '\n      ' : '';
  yield `${title}${path === '' ? '' : gap + paint.dim(path)}\n`;
  if (result.kind === 'unreadable') {
    for (const error of result.errors) {
      yield `        ${plainCut(errorLine(error), 400)}\n`;
      if (error.hint !== undefined) yield `          hint: ${plainCut(error.hint, 400)}\n`;
    }
    return;
  }
  if (result.unmet.length === 0) return;
  if (!result.expects) {
    yield '        it has no expect: section, so nothing may be missed, late or false\n';
  }
  for (const unmet of result.unmet) yield `        ${plain(unmetText(unmet))}\n`;
  for (const reason of result.reasons) yield `        ${paint.dim(plain(reason))}\n`;
  if (result.picked !== undefined)
    yield `        ${paint.dim(`picked at random: ${plainCut(result.picked, 400)}`)}\n`;
}

function markOf(outcome: CaseOutcome, paint: Paint): string {
  switch (outcome) {
    case 'passed':
      return paint.good('pass ');
    case 'failed':
      return paint.bad(paint.bold('FAIL '));
    case 'error':
      return paint.bad(paint.bold('ERROR'));
  }
}

function closingLine(cases: readonly SuiteCase[], paint: Paint): string {
  const count = (outcome: CaseOutcome): number =>
    cases.filter((one) => outcomeOf(one) === outcome).length;
  const [passed, failed, errors] = [count('passed'), count('failed'), count('error')];
  if (passed === 0 && errors === 0) {
    return `${paint.bad(`${String(failed)} of ${counted(failed, 'scenario')} failed`)}.`;
  }
  const parts = [`${counted(passed, 'scenario')} passed`];
  if (failed > 0) parts.push(paint.bad(`${String(failed)} failed`));
  if (errors > 0) parts.push(paint.bad(`${String(errors)} could not be read`));
  return `${parts.join(', ')}.`;
}
