// What a log of limited length leaves open, whatever is fitted to it; and limits between figures: each leave-open is missed, late
// or reported early at most once.
import jStat from 'jstat';
import type { Estimate, Rate, Share } from './estimate.js';
import { type Estimated, estimatedShare, type Interval, studentOverNormal } from './intervals.js';

const daysAYear = 365;

/** What the profile of an estimate was fitted to. */
export interface Evidence {
  readonly days: number;
  /** Absent: enough of them. */
  readonly openings?: number | undefined;
  readonly leaveOpens: number;
  /** As many independent leave-opens as these are worth: fewer where they come several a day; absent: all. */
  readonly leaveOpensApart?: number | undefined;
  /** Somebody wrote `leaveOpen:` into the profile, who knows more than the log. */
  readonly isWritten?: boolean | undefined;
  /** The profile was fitted to leave-opens of another length: what its resamples differ by is of those. */
  readonly isRecounted?: boolean | undefined;
}

/** Fewer days or openings show little of how a door is used in a year. */
const [fewDays, fewOpenings] = [7, 20];

/** Whether a log is so short that it shows little, whatever is fitted to it. */
export function isTooShort({
  days,
  openings = fewOpenings,
}: Omit<Evidence, 'leaveOpens'>): boolean {
  return days < fewDays || openings < fewOpenings;
}

/** Twice what shows little: chance then rarely leaves a log of the suggested length with too few. */
const wantedOpenings = 2 * fewOpenings;

/** How long a log must be, of a door as often opened as in one that is too short, to show more than little. */
export function longerLog({ days, openings = fewOpenings }: Omit<Evidence, 'leaveOpens'>): {
  readonly days: number;
  readonly openings: number;
} {
  if (openings >= fewOpenings) return { days: fewDays, openings: fewOpenings };
  const wantedDays = (wantedOpenings * Math.max(1, days)) / Math.max(1, openings);
  return { days: Math.max(fewDays, wantedDays), openings: wantedOpenings };
}

/**
 * Limits the rates of an estimate by what its log shows without a fit (null: no log). A log of some days cannot show that
 * anything is rarer than −ln(1 − confidence) in them (the rule of three): that many false alarms stay possible, and that
 * many leave-opens where it has none, each of which may be missed, late, reported early or repeated. Of a log that is too short
 * nothing else is believed either. None of missed, late and early is more frequent than leave-opens.
 */
export function withEvidence(estimate: Estimate, evidence: Evidence | null): Estimate {
  const known = evidence === null ? estimate : withLog(estimate, evidence);
  const { rates, leaveOpens } = known;
  const capped = (rate: Rate): Rate => ({
    ...rate,
    high: Math.max(rate.perYear, Math.min(rate.high, leaveOpens.high)),
  });
  const missed = capped(rates.missed);
  const [late, earlyAlerts] = [capped(rates.late), capped(rates.earlyAlerts)];
  return { ...known, rates: { ...rates, missed, late, earlyAlerts } };
}

function withLog(estimate: Estimate, evidence: Evidence): Estimate {
  const { confidence, rates, shares } = estimate;
  const rare = rarestShown(evidence.days, confidence);
  const bounded = <Known extends Estimated>(known: Known, high = rare): Known => ({
    ...known,
    high: Math.max(known.high, high),
  });
  const falseAlarms = bounded(rates.falseAlarms);
  if (evidence.isWritten === true) return { ...estimate, rates: { ...rates, falseAlarms } };
  const { leaveOpens } = evidence;
  const wide = (share: Share): Share => ofFewLeaveOpens(share, leaveOpens, confidence);
  const known = {
    ...estimate,
    rates: { ...rates, falseAlarms },
    shares: { missed: wide(shares.missed), late: wide(shares.late) },
  };
  const logged = leaveOpens > 0 ? loggedLeaveOpens(estimate, evidence) : null;
  if (logged !== null && !isTooShort(evidence)) {
    return evidence.isRecounted === true
      ? ofOtherLeaveOpens({ ...known, leaveOpens: logged }, evidence)
      : { ...known, leaveOpens: logged };
  }
  const [missed, late] = [bounded(rates.missed), bounded(rates.late)];
  const [earlyAlerts, repeats] = [bounded(rates.earlyAlerts), bounded(rates.repeats)];
  const most = leaveOpens === 0 ? 0 : estimatedShare(0, leaveOpens, confidence).high;
  return {
    ...known,
    leaveOpens: logged ?? bounded(estimate.leaveOpens),
    rates: { missed, late, falseAlarms, earlyAlerts, repeats },
    shares: {
      missed: bounded(known.shares.missed, most),
      late: bounded(known.shares.late, most),
    },
  };
}

/** Of leave-opens whose lengths no fit has varied, as many of each stay possible as their number alone leaves open. */
function ofOtherLeaveOpens(estimate: Estimate, { leaveOpens }: Evidence): Estimate {
  const { confidence, rates, shares } = estimate;
  const most = estimatedShare(0, leaveOpens, confidence).high;
  const share = (known: Share): Share => ({ ...known, high: Math.max(known.high, most) });
  const rate = (known: Rate): Rate => ({
    ...known,
    high: Math.max(known.high, estimate.leaveOpens.high * most),
  });
  return {
    ...estimate,
    shares: { missed: share(shares.missed), late: share(shares.late) },
    rates: {
      ...rates,
      missed: rate(rates.missed),
      late: rate(rates.late),
      earlyAlerts: rate(rates.earlyAlerts),
    },
  };
}

/** From here on there are enough leave-opens in a log for what resamples of its days differ by. */
const enoughLeaveOpens = 30;
/** Degrees of freedom that the rest of a log gives, beside its leave-opens. */
const otherDegrees = 4;

/**
 * Resamples of few leave-opens differ by too little: the upper end is as much farther as Student's t is over the normal quantile.
 * On drawn logs of 15 days with a handful of leave-opens 86 % of the intervals covered without this.
 */
function ofFewLeaveOpens(share: Share, leaveOpens: number, confidence: number): Share {
  if (leaveOpens === 0 || leaveOpens >= enoughLeaveOpens) return share;
  const from = share.share ?? 0;
  const times = studentOverNormal(leaveOpens + otherDegrees, confidence);
  return { ...share, high: Math.min(1, from + (share.high - from) * times) };
}

/**
 * Leave-opens per year, of which a log has some: the interval of a Poisson count (Garwood) of as many as came apart, which
 * need not be a whole number.
 */
export function leaveOpensIn(
  { days, leaveOpens, leaveOpensApart = leaveOpens }: Evidence,
  confidence: number,
): Interval {
  const tail = (1 - confidence) / 2;
  const each = ((leaveOpens / leaveOpensApart) * daysAYear) / days;
  return {
    low: each * jStat.gammapinv(tail, leaveOpensApart),
    high: each * jStat.gammapinv(1 - tail, leaveOpensApart + 1),
  };
}

/** The same, wide enough for what the simulated years had. */
function loggedLeaveOpens(
  { confidence, leaveOpensPerYear }: Estimate,
  evidence: Evidence,
): Estimated {
  const { low, high } = leaveOpensIn(evidence, confidence);
  return {
    kind: 'interval',
    low: Math.min(low, leaveOpensPerYear),
    high: Math.max(high, leaveOpensPerYear),
  };
}

export function lacksLeaveOpens(
  { leaveOpensPerYear }: Estimate,
  evidence: Evidence | null,
): evidence is Evidence {
  return evidence?.leaveOpens === 0 && leaveOpensPerYear === 0;
}

/** Per year, the rarest that a log of some days without one can show: the upper end of what stays possible. */
export function rarestShown(days: number, confidence: number): number {
  return (-Math.log(1 - confidence) * daysAYear) / days;
}
