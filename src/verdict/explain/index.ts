// Explains the bad parts of a verdict: it runs the same experiment again, recording just around them.
import { itemAt } from '../../base/index.js';
import type { Experiment } from '../../sim/index.js';
import { simulate } from '../../sim/index.js';
import type { Verdict } from '../judgement.js';
import type { JudgeSettings } from '../settings.js';
import { explainAlert } from './alert.js';
import { type Evidence, reachMs, type SeenCheck, type Span, spanBefore } from './evidence.js';
import { explainOpening } from './opening.js';

/** One sentence of plain words on a missed or late leave-open, or on a false alert. */
export interface Explanation {
  readonly subject: { readonly kind: 'opening' | 'alert'; readonly index: number };
  /** Without a capital and a full stop, so that it can follow a name. */
  readonly sentence: string;
  /** Instants of the checks that led to it. */
  readonly checksMs: readonly number[];
}

/** The most checks named in one explanation. */
const mostChecksNamed = 20;

/**
 * Explains missed and late leave-opens and false alerts, in the order of the timeline within each.
 * @param limit at most so many openings, and as many alerts.
 */
export function explain(on: {
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly asked: JudgeSettings;
  readonly limit: number;
}): readonly Explanation[] {
  const { experiment, verdict, asked, limit } = on;
  const openings = verdict.openings.leaveOpens
    .filter((index) => ['missed', 'late'].includes(verdict.openings.at(index).outcome))
    .slice(0, limit);
  const alerts = verdict.alerts
    .flatMap(({ kind }, index) => (kind === 'false' ? [index] : []))
    .slice(0, limit);
  if (openings.length + alerts.length === 0) return [];
  const spans = [
    ...openings.map((index) => spanOfOpening(on, index)),
    ...alerts.map((index) => spanBefore(experiment, itemAt(verdict.alerts, index).decidedMs)),
  ];
  const trace = simulate(experiment, { record: spans });
  const evidence: Evidence = { experiment, verdict, asked, trace };
  return [
    ...openings.map((index) => explanation('opening', index, explainOpening(evidence, index))),
    ...alerts.map((index) => explanation('alert', index, explainAlert(evidence, index))),
  ];
}

function explanation(
  kind: 'opening' | 'alert',
  index: number,
  found: { readonly sentence: string; readonly checks: readonly SeenCheck[] },
): Explanation {
  const checksMs = found.checks.slice(0, mostChecksNamed).map(({ atMs }) => atMs);
  return { subject: { kind, index }, sentence: found.sentence, checksMs };
}

function spanOfOpening(
  on: { readonly experiment: Experiment; readonly verdict: Verdict },
  index: number,
): Span {
  const { fromMs, toMs, durationMs } = on.verdict.openings.at(index);
  const reach = reachMs(on.experiment);
  return [fromMs - reach, (toMs ?? fromMs + durationMs) + reach];
}
