// What device-years came to, in whole numbers: tallies join in any order to the same sum, so that no result depends
// on who counted which year.
import type { Trace } from '../sim/index.js';
import type { Summary, Verdict } from '../verdict/index.js';
import { addDelay, type Delays } from './delays.js';

/** What is counted year by year, to see whether it comes one by one or in bursts. */
export const eventNames = ['missed', 'late', 'falseAlarms', 'earlyAlerts', 'repeats'] as const;
export type EventName = (typeof eventNames)[number];

/** Of these a tally keeps how many years had how many. */
export const yearlyNames = ['missed', 'late', 'falseAlarms'] as const;
export type YearlyName = (typeof yearlyNames)[number];

/** How many years had a count, by that count. */
export type YearsByCount = Map<number, number>;

export const countNames = [
  'openings',
  'leaveOpens',
  'reported',
  'undecided',
  'alerts',
  ...eventNames,
] as const;
export const decidedNames = ['squares', 'missed', 'late'] as const;
type CountName = (typeof countNames)[number];

/** Sums over device-years. */
export interface Tally {
  years: number;
  readonly counts: Record<CountName, number>;
  /** Of the missed leave-opens: those of which an alert was delivered, and each such alert was then lost. */
  missedByLoss: number;
  /** Sums of the squares of each year's count. */
  readonly squares: Record<EventName, number>;
  readonly yearsByCount: Readonly<Record<YearlyName, YearsByCount>>;
  /** Of the leave-opens that were decided: sums of each year's square, and of its products with two other counts. */
  readonly decided: Record<'squares' | 'missed' | 'late', number>;
  /** Of reported and late leave-opens. */
  readonly delays: Delays;
  /** The least and the greatest of these delays, to the ms; null: none. */
  leastDelayMs: number | null;
  worstDelayMs: number | null;
}

export function emptyTally(): Tally {
  return {
    years: 0,
    counts: {
      openings: 0,
      leaveOpens: 0,
      reported: 0,
      undecided: 0,
      alerts: 0,
      missed: 0,
      late: 0,
      falseAlarms: 0,
      earlyAlerts: 0,
      repeats: 0,
    },
    missedByLoss: 0,
    squares: { missed: 0, late: 0, falseAlarms: 0, earlyAlerts: 0, repeats: 0 },
    yearsByCount: { missed: new Map(), late: new Map(), falseAlarms: new Map() },
    decided: { squares: 0, missed: 0, late: 0 },
    delays: new Map(),
    leastDelayMs: null,
    worstDelayMs: null,
  };
}

/**
 * Adds one device-year.
 * @param verdict by the alerts as somebody saw them. @param sent the same alerts as they were delivered.
 */
export function addYear(tally: Tally, verdict: Verdict, sent: Trace['alerts']): void {
  const { summary, openings } = verdict;
  tally.years += 1;
  for (const name of countNames) {
    tally.counts[name] += name === 'undecided' ? undecidedLeaveOpens(summary) : summary[name];
  }
  for (const name of eventNames) tally.squares[name] += summary[name] ** 2;
  for (const name of yearlyNames) addTo(tally.yearsByCount[name], summary[name], 1);
  const decided = summary.reported + summary.late + summary.missed;
  tally.decided.squares += decided ** 2;
  tally.decided.missed += decided * summary.missed;
  tally.decided.late += decided * summary.late;
  const lost = lostOpenings(verdict, sent);
  for (const index of openings.leaveOpens) {
    const { delayMs, outcome } = openings.at(index);
    const isMissed = outcome === 'missed' || outcome === 'unpowered';
    if (isMissed && lost.has(index)) tally.missedByLoss += 1;
    if (delayMs === null) continue;
    addDelay(tally.delays, delayMs);
    widen(tally, delayMs, delayMs);
  }
}

/** The openings of alerts that were delivered and that nobody saw. */
function lostOpenings({ alerts }: Verdict, sent: Trace['alerts']): ReadonlySet<number> {
  const lost = new Set<number>();
  for (const [index, { opening, deliveredMs }] of alerts.entries()) {
    const wasDelivered = (sent[index]?.deliveredMs ?? null) !== null;
    if (opening !== null && deliveredMs === null && wasDelivered) lost.add(opening);
  }
  return lost;
}

/** What is open at the end of a year and not yet long enough is also undecided, but not a leave-open. */
function undecidedLeaveOpens({ leaveOpens, reported, late, missed }: Summary): number {
  return leaveOpens - reported - late - missed;
}

/** Adds what another tally holds. */
export function join(tally: Tally, other: Tally): void {
  tally.years += other.years;
  for (const name of countNames) tally.counts[name] += other.counts[name];
  tally.missedByLoss += other.missedByLoss;
  for (const name of eventNames) tally.squares[name] += other.squares[name];
  for (const name of decidedNames) tally.decided[name] += other.decided[name];
  for (const name of yearlyNames) {
    for (const [count, years] of other.yearsByCount[name]) {
      addTo(tally.yearsByCount[name], count, years);
    }
  }
  for (const [bin, count] of other.delays) addTo(tally.delays, bin, count);
  const { leastDelayMs, worstDelayMs } = other;
  if (leastDelayMs !== null && worstDelayMs !== null) widen(tally, leastDelayMs, worstDelayMs);
}

function addTo(counts: Map<number, number>, key: number, by: number): void {
  counts.set(key, (counts.get(key) ?? 0) + by);
}

function widen(tally: Tally, leastMs: number, worstMs: number): void {
  tally.leastDelayMs = Math.min(tally.leastDelayMs ?? leastMs, leastMs);
  tally.worstDelayMs = Math.max(tally.worstDelayMs ?? worstMs, worstMs);
}
