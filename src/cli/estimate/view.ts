// What is shown of an estimate, beside its numbers.
import type { Estimate, Tally } from '../../estimate/index.js';
import type { LogAtEveryPhase } from '../inputs/log-at-every-phase.js';

interface Mishaps {
  readonly perYear: number;
  readonly meanMs: number;
}

/** The question, in the words of the command line. */
export interface EstimateHead {
  readonly seed: string;
  readonly yearsAsked: number;
  readonly profile: string;
  /** Null: the defaults apply. */
  readonly watch: string | null;
  /** The machine in place of the watch's own logic; null: there was none. */
  readonly logic: string | null;
  readonly leaveOpenAfterMs: number;
  readonly reportWithinMs: number | null;
  readonly outages: Mishaps | null;
  readonly powerCuts: Mishaps | null;
  /** Profiles fitted to resampled days of the log, and how many years of each were simulated; null: no log is known. */
  readonly resamples: { readonly count: number; readonly yearsEach: number } | null;
  /** What the profile was fitted to; null: nothing. */
  readonly fitted: FittedEvidence | null;
  /** Whether every leave-open is proved to be reported at rest; null: nothing is known of that. */
  readonly sureAtRest: boolean | null;
  /** The best detection latency that is proved at rest; null: none is known. */
  readonly bestAtRestMs: number | null;
  /** What the years take for granted of people, in words. */
  readonly assumes: readonly string[];
  /** The line to run next where something was missed or false; an empty text where no command helps. */
  readonly next: string;
  /** The command that judges the log at every phase; null: the profile is not from a log, or the log came from standard input. */
  readonly everyPhase: string | null;
}

export interface FittedEvidence {
  readonly days: number;
  readonly openings: number;
  readonly leaveOpens: number;
  readonly leaveOpensApart?: number | undefined;
  readonly isWritten?: boolean | undefined;
  readonly isRecounted?: boolean | undefined;
}

export interface EstimateView {
  readonly head: EstimateHead;
  /** Null: there is no log. */
  readonly log: LogAtEveryPhase | 'too-long' | null;
  readonly estimate: Estimate;
  /** How many years had how many, for a picture. */
  readonly yearsByCount: Tally['yearsByCount'];
  readonly stoppedBy: 'years' | 'precision' | 'interrupt';
}
