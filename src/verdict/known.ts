// What a log knows of the length of an opening: the one definition for all that counts openings, fits to them or compares with them.
// An opening is cut where its beginning or its end was not seen: by a span without evidence, by the start or by the end of the log.
import { cellAt, trueMs } from '../base/index.js';
import { noSpans, type Spans } from '../world/index.js';
import { doubtfulOpenings } from './unknown.js';

export interface SeenDoor {
  readonly openings: Spans;
  readonly lengthMs: number;
  /** Spans without evidence; one before the start is of an opening that began before it. Absent: none. */
  readonly unseen?: Spans | undefined;
}

export interface KnownOpening {
  /** What it certainly is, however long it lasted where nobody saw it; else unknown. */
  readonly kind: 'brief' | 'leave-open' | 'unknown';
  readonly isStartSeen: boolean;
  readonly isEndSeen: boolean;
  /** Nothing of it is hidden: it lasted `seenMs`. Else it lasted that long at least. */
  readonly isWhole: boolean;
  /** The longest stretch in which it was seen open. */
  readonly seenMs: number;
}

/** Gives what is known of an opening, by its index. */
export function knownOpenings(
  { openings, lengthMs, unseen = noSpans }: SeenDoor,
  leaveOpenAfterMs: number,
): (index: number) => KnownOpening {
  const longMs = trueMs(leaveOpenAfterMs);
  const asked = { leaveOpenAfterMs: longMs, reportWithinMs: null, quietUpToMs: null };
  const doubts = doubtfulOpenings({ openings, unavailable: unseen, lengthMs, asked });
  return (index) => {
    const [fromMs, toMs] = [cellAt(openings.fromMs, index), cellAt(openings.toMs, index)];
    const isOver = toMs <= lengthMs;
    const doubt = doubts.get(index);
    if (doubt === undefined) {
      const seenMs = Math.min(toMs, lengthMs) - fromMs;
      const isLong = seenMs >= leaveOpenAfterMs;
      const kind = isLong ? 'leave-open' : isOver ? 'brief' : 'unknown';
      return { kind, isStartSeen: true, isEndSeen: isOver, isWhole: isOver, seenMs };
    }
    const { earliestMs, seen, isEndSeen } = doubt.parts;
    const isStartSeen = earliestMs === fromMs;
    const seenMs = seen.reduce((most, part) => Math.max(most, part.toMs - part.fromMs), 0);
    const settled = doubt.kind === 'settled' ? doubt.outcome : 'leave-open';
    return { kind: settled, isStartSeen, isEndSeen, isWhole: false, seenMs };
  };
}

/** How long the door was watched. */
export function seenMsOf({ lengthMs, unseen = noSpans }: Omit<SeenDoor, 'openings'>): number {
  let hiddenMs = 0;
  for (let span = 0; span < unseen.fromMs.length; span += 1) {
    const fromMs = Math.max(0, cellAt(unseen.fromMs, span));
    hiddenMs += Math.max(0, Math.min(lengthMs, cellAt(unseen.toMs, span)) - fromMs);
  }
  return lengthMs - hiddenMs;
}
