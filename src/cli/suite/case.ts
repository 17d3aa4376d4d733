// The result of one scenario of a suite: plain data, so that it can come from a worker.
import type { Diagnostic } from '../../base/index.js';
import type { UnmetExpectation } from '../../scenarios/index.js';
import type { Summary } from '../../verdict/index.js';

export interface SuiteCase {
  /** The scenario's file, from the suite's folder on, with `/` between its parts. */
  readonly path: string;
  readonly result:
    | {
        readonly kind: 'judged';
        readonly name: string;
        readonly summary: Summary;
        readonly unmet: readonly UnmetExpectation[];
        /** False: it has no expectations, so nothing may be missed, late or false. */
        readonly expects: boolean;
        /** One sentence for each opening or alert that a failed expectation counts; the first few. */
        readonly reasons: readonly string[];
        /** Which values of the ranges of the watch file it ran with; absent: the file has no ranges. */
        readonly picked?: string;
      }
    /** The scenario or its watch file cannot be read. */
    | { readonly kind: 'unreadable'; readonly errors: readonly Diagnostic[] };
  /** How long it took, for reports only. */
  readonly tookMs: number;
}

export type CaseOutcome = 'passed' | 'failed' | 'error';

export function outcomeOf({ result }: SuiteCase): CaseOutcome {
  if (result.kind === 'unreadable') return 'error';
  return result.unmet.length === 0 ? 'passed' : 'failed';
}

/** The scenario's name, or its file where that cannot be read. */
export function nameOf({ path, result }: SuiteCase): string {
  return result.kind === 'judged' ? result.name : path;
}

/** `falseAlarms: expected 0, got 2` */
export function unmetText({ name, wanted, got }: UnmetExpectation): string {
  return `${name}: expected ${wanted}, got ${got}`;
}

/** `watch.yaml:3:18: a bare number is not a duration` */
export function errorLine({ source, message }: Diagnostic): string {
  const place = [source.file, source.line, source.column].filter((part) => part !== undefined);
  return `${place.join(':')}: ${message}`;
}
