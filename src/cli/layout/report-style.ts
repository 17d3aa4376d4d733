// The room that a report of a replay has.
export interface ReportStyle {
  readonly width: number;
  /** The most rows of a table. */
  readonly rows: number;
}
