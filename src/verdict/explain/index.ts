// Explains the bad parts of a verdict: it runs the same experiment again, recording just around them.

import { itemAt } from '../../base/index.js';
import { type Requirements } from '../../model/index.js';
import type { Experiment } from '../../sim/index.js';
import type { JudgedOpening, Verdict } from '../judgement.js';
import { explainAlert } from './alert.js';
import { causeOf } from './causes.js';
import type { Clause } from './clause.js';
import { evidenceOf, instantsOf, type Span } from './evidence.js';
import { explainOpening, undelivered } from './opening.js';
import { sentenceOf } from './words.js';

/** One plain sentence on a missed or late leave-open, or on a false alert. */
export interface Explanation {
  readonly subject: { readonly kind: 'opening' | 'alert'; readonly index: number };
  /** Without a capital and a full stop, so that it can follow a name. */
  readonly sentence: string;
  /** The same without the figures of this case, to count findings of one cause together. */
  readonly cause: string;
  /** Instants of the checks that led to it. */
  readonly checksMs: readonly number[];
}

/** Whether an opening or an alert is to be explained. */
export type Wanted = (subject: Explanation['subject']) => boolean;

/** The most checks named in one explanation. */
const mostChecksNamed = 20;

/**
 * Explains missed and late leave-opens and false alerts, in the order of the timeline within each.
 * @param limit the most openings, and the most alerts, that are explained.
 * @param wanted absent: all of them.
 */
export function explain(on: {
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly asked: Requirements;
  readonly limit: number;
  readonly wanted?: Wanted | undefined;
}): readonly Explanation[] {
  const { verdict, limit, wanted = () => true } = on;
  const openings = verdict.openings.leaveOpens
    .filter((index) => ['missed', 'unpowered', 'late'].includes(verdict.openings.at(index).outcome))
    .filter((index) => wanted({ kind: 'opening', index }))
    .slice(0, limit);
  const alerts = verdict.alerts
    .flatMap(({ kind }, index) => (kind === 'false' ? [index] : []))
    .filter((index) => wanted({ kind: 'alert', index }))
    .slice(0, limit);
  if (openings.length + alerts.length === 0) return [];
  const evidence = evidenceOf(on, [
    ...openings.map((index) => spanOf(verdict.openings.at(index))),
    ...alerts.map((index) => {
      const { decidedMs } = itemAt(verdict.alerts, index);
      return { fromMs: decidedMs, toMs: decidedMs };
    }),
  ]);
  return [
    ...openings.map((index): Explanation => {
      const { clauses, checks } = explainOpening(evidence, index);
      const checksMs = instantsOf(checks, mostChecksNamed);
      return { subject: { kind: 'opening', index }, ...wordsOf(clauses), checksMs };
    }),
    ...alerts.map((index): Explanation => {
      const { clauses, checksMs } = explainAlert(evidence, index);
      return { subject: { kind: 'alert', index }, ...wordsOf(clauses), checksMs };
    }),
  ];
}

/** Why an alert was decided, of whichever kind it is, and why it was not delivered; `fate` is null where it was. */
export function explainAlertWhole(
  on: Omit<Parameters<typeof explain>[0], 'limit' | 'wanted'>,
  index: number,
): { readonly decided: string; readonly fate: string | null } {
  const { decidedMs } = itemAt(on.verdict.alerts, index);
  const evidence = evidenceOf(on, [{ fromMs: decidedMs, toMs: decidedMs }]);
  const alert = itemAt(evidence.trace.alerts, index);
  return {
    decided: sentenceOf(explainAlert(evidence, index).clauses),
    fate: alert.deliveredMs === null ? sentenceOf([undelivered(evidence, [alert])]) : null,
  };
}

function wordsOf(clauses: readonly Clause[]): Pick<Explanation, 'sentence' | 'cause'> {
  return { sentence: sentenceOf(clauses), cause: causeOf(clauses) };
}

function spanOf({ fromMs, durationMs }: JudgedOpening): Span {
  return { fromMs, toMs: fromMs + durationMs };
}
