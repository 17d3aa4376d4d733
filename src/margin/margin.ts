// What is left of the time to a limit once the watch has reported the door and somebody has arrived.
import { invariant } from '../base/index.js';
import { celsiusAfter, type Limit, type Space, toLimitMs } from './warm-up.js';

export interface MarginQuestion extends Space {
  readonly limit: Limit;
  readonly tauMs: number;
  /** From the opening to the delivery of the alert. */
  readonly worstDelayMs: number;
  /** From the delivery until somebody sees the message; default: at once. */
  readonly seenAfterMs?: number;
  /** From then to the door being shut. */
  readonly responseMs: number;
}

export interface Margin {
  readonly tauMs: number;
  /** From the opening to the limit; null: it is never reached. */
  readonly toLimitMs: number | null;
  /** When somebody has come at the latest, and how warm it is then. */
  readonly shutAfterMs: number;
  readonly celsiusThen: number;
  /** To the limit from then on, negative by the time that is missing; null: no limit is ever reached. */
  readonly leftMs: number | null;
  /** The longest `reportWithin` that is early enough; null: any is, or (with `toLimitMs`) none can be. */
  readonly latestReportWithinMs: number | null;
}

export function marginOf(question: MarginQuestion): Margin {
  const { limit, tauMs, worstDelayMs, seenAfterMs = 0, responseMs } = question;
  invariant(tauMs > 0, 'a time constant is more than nothing', { tauMs });
  const reachedMs = toLimitMs(question, limit, tauMs);
  const shutAfterMs = worstDelayMs + seenAfterMs + responseMs;
  const latest = reachedMs === null ? null : reachedMs - seenAfterMs - responseMs;
  return {
    tauMs: Math.round(tauMs),
    toLimitMs: reachedMs,
    shutAfterMs,
    celsiusThen: celsiusAfter(question, tauMs, shutAfterMs),
    leftMs: reachedMs === null ? null : reachedMs - shutAfterMs,
    latestReportWithinMs: latest === null || latest <= 0 ? null : latest,
  };
}
