// The words of a verdict. Every opening gets one outcome, every alert one kind.

export type OpeningOutcome =
  /** Over, and shorter than `leaveOpenAfter`. */
  | 'brief'
  /** A leave-open with a delivered alert of its own, in time. */
  | 'reported'
  /** The same, but after `reportWithin`. */
  | 'late'
  /**
   * Still open at the end: a leave-open without a delivered alert, with time left to report it; or not yet as long as
   * `leaveOpenAfter`, and then no leave-open either.
   */
  | 'undecided'
  /** A leave-open without a delivered alert, during which the device was off for want of charge at some instant. */
  | 'unpowered'
  /** Any other leave-open. */
  | 'missed'
  /** It depends on what happened in a span of which the log knows nothing. */
  | 'unknown';

export type AlertKind =
  /** The first of its opening, decided at least `leaveOpenAfter` after the opening began. */
  | 'true'
  /** The first of its opening, decided sooner, and the opening did become a leave-open or still may. */
  | 'early'
  /** The first of a brief opening, or of none. */
  | 'false'
  /** Not the first of its opening. */
  | 'repeat'
  /** Decided in a span of which the log knows nothing, or the first of an opening that is unknown. */
  | 'unknown';

export interface JudgedOpening {
  readonly fromMs: number;
  /** Null: still open at the end of the timeline. */
  readonly toMs: number | null;
  /** Up to the end of the timeline for an opening that is still open there. */
  readonly durationMs: number;
  readonly outcome: OpeningOutcome;
  /** First delivery of an alert of this opening, counted from its start; null: none. */
  readonly delayMs: number | null;
}

export interface JudgedAlert {
  readonly decidedMs: number;
  readonly deliveredMs: number | null;
  readonly kind: AlertKind;
  /** Index of the opening that the alert belongs to: the one in which it was decided. */
  readonly opening: number | null;
}

export interface Summary {
  readonly openings: number;
  readonly leaveOpens: number;
  readonly reported: number;
  readonly late: number;
  readonly missed: number;
  readonly undecided: number;
  /** Missed because the charge was used up; counted in `missed` as well. */
  readonly unpowered: number;
  /** Openings that a span without evidence leaves undecidable. */
  readonly unknown: number;
  readonly alerts: number;
  readonly falseAlarms: number;
  readonly earlyAlerts: number;
  readonly repeats: number;
  readonly checks: number;
  /** The greatest detection latency of the reported and late leave-opens; null: none. */
  readonly worstDelayMs: number | null;
  /** Alerts that were decided and never delivered; absent: none. */
  readonly undelivered?: number;
  /** Low-battery messages that were delivered; absent: none. */
  readonly lowBatteryMessages?: number;
}

/** The verdict on one trace. Openings are in columns; `openingAt` reads one. */
export interface Verdict {
  readonly summary: Summary;
  readonly alerts: readonly JudgedAlert[];
  readonly openings: JudgedOpenings;
  /** The leave-open without a report whose alert was being sent as the timeline ended, with the network up; absent: none. */
  readonly cutOff?: number;
}

/** All judged openings, readable by index, without an object each. */
export interface JudgedOpenings {
  readonly count: number;
  at(index: number): JudgedOpening;
  /** Indices of the leave-opens, ascending. */
  readonly leaveOpens: readonly number[];
  /** Indices of the openings that are unknown, ascending. */
  readonly unknown: readonly number[];
  /** How long an opening was seen open, if it is judged on that part alone; null: it is judged as a whole. */
  seenMs(index: number): number | null;
}
