// What a log without a leave-open shows: not that there are none, but that they are rare.
import type { Estimate, Rate } from './estimate.js';

const daysAYear = 365;

/** What the profile of an estimate was fitted to. */
export interface Evidence {
  readonly days: number;
  readonly leaveOpens: number;
  /** Somebody wrote `leaveOpen:` into the profile, who knows more than the log. */
  readonly isWritten?: boolean | undefined;
}

/**
 * The rates of an estimate whose log has no leave-opens, so that its profile has none but those that its lengths lead to:
 * up to −ln(1 − confidence) of them may have been expected in the log (the rule of three), and each may be missed, late or
 * reported early.
 */
export function withEvidence(estimate: Estimate, evidence: Evidence | null): Estimate {
  if (evidence === null || evidence.leaveOpens > 0 || evidence.isWritten === true) return estimate;
  const { confidence, rates } = estimate;
  const high = leaveOpensAtMost(evidence.days, confidence);
  const bounded = (rate: Rate): Rate => ({ ...rate, high: Math.max(rate.high, high) });
  const { missed, late, earlyAlerts } = rates;
  return {
    ...estimate,
    rates: {
      ...rates,
      missed: bounded(missed),
      late: bounded(late),
      earlyAlerts: bounded(earlyAlerts),
    },
  };
}

export function lacksLeaveOpens(
  { leaveOpensPerYear }: Estimate,
  evidence: Evidence | null,
): evidence is Evidence {
  return evidence !== null && evidence.leaveOpens === 0 && leaveOpensPerYear === 0;
}

/** Leave-opens per year, of which days without one are the evidence. */
export function leaveOpensAtMost(days: number, confidence: number): number {
  return (-Math.log(1 - confidence) * daysAYear) / days;
}
