// What a log without a leave-open shows: not that there are none, but that they are rare.
import type { Estimate, Rate } from './estimate.js';

const daysAYear = 365;

/** What the profile of an estimate was fitted to. */
export interface Evidence {
  readonly days: number;
  readonly leaveOpens: number;
}

/**
 * The rates of an estimate whose profile has no leave-opens because its log has none: up to −ln(1 − confidence) of them may
 * have been expected in the log (the rule of three), and each may be missed, late or reported early.
 */
export function withEvidence(estimate: Estimate, evidence: Evidence | null): Estimate {
  if (!lacksLeaveOpens(estimate, evidence)) return estimate;
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
