/** About how many checks, or heartbeats, are missing between two that are in the log. */
export interface MissingChecks {
  readonly afterMs: number;
  /** Null: none came until the end of the timeline. */
  readonly beforeMs: number | null;
  readonly count: number;
  /** How often they were due, where that is not the check interval. */
  readonly everyMs?: number;
  /** What is missing is a try after a failed attempt, not a usual check. */
  readonly isRetry?: true;
}
