// What the owner asks of the watch: the `judge:` section.
import type { TrueMs } from '../base/index.js';

export interface Requirements {
  /** An opening at least this long is a leave-open; a shorter one is brief. */
  readonly leaveOpenAfterMs: TrueMs;
  /** From the start of an opening to the delivery of its alert; null: no limit asked. */
  readonly reportWithinMs: TrueMs | null;
  /** One opening of at most this, an hour or more after the one before, must raise no alert; null: not required. */
  readonly quietUpToMs: TrueMs | null;
}
