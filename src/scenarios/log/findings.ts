// What is wrong with a log, or was repaired: the first of each in full, the rest as a count.
import type { Diagnostic } from '../../base/index.js';
import { diagnosed, type Problem } from '../text/problem.js';

/** How many findings are kept in full. */
const mostKept = 10;

export interface Findings {
  /** Notes a problem of a row; the row is then left out, or repaired. */
  add(problem: Problem, line: number, column?: number): void;
  /** Notes a problem of an option. */
  addOption(option: string, problem: Problem): void;
  readonly count: number;
  /** In the order of the rows, with the count of the rest at the end. */
  list(): readonly Diagnostic[];
}

export function findings(file: string, severity: Diagnostic['severity']): Findings {
  const kept: Diagnostic[] = [];
  let count = 0;
  return {
    add(problem, line, column) {
      count += 1;
      if (kept.length >= mostKept) return;
      kept.push(diagnosed(problem, null, { file, line, column }, severity));
    },
    addOption(option, problem) {
      count += 1;
      kept.push(diagnosed(problem, null, { file: option }, severity));
    },
    get count() {
      return count;
    },
    list() {
      if (count === kept.length) return kept;
      const what = severity === 'error' ? 'errors' : 'repairs';
      const message = `and ${String(count - kept.length)} more ${what}`;
      return [...kept, { code: `more-${what}`, severity, source: { file }, message }];
    },
  };
}
