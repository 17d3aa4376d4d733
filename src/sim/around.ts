// Which wakes to keep around some spans of time: all from the last checks before a span to the first check after it, however
// far away these are. What lies between spans is forgotten as it goes.
import { itemAt } from '../base/index.js';
import type { WakeRecord } from './trace.js';

/** Spans of true time, and how many of the last wakes with a check before each to keep. */
export interface Around {
  readonly around: readonly (readonly [fromMs: number, toMs: number])[];
  readonly before: number;
}

/** A wake that is offered, not yet written out. */
export interface OfferedWake {
  readonly wakeMs: number;
  /** Its last check, repeats included; null when it was cut short. */
  readonly lastCheckMs: number | null;
  /** The last instant that it is known to last to. */
  readonly lastMs: number;
  readonly record: () => WakeRecord;
}

/** Takes every wake in order, and hears when there are no more. */
export interface Keeper {
  offer(wake: OfferedWake): void;
  close(): void;
}

/** Keeps the wakes around spans, in `wakes`. */
export function keeperAround({ around, before }: Around, wakes: WakeRecord[]): Keeper {
  const spans = around.toSorted((a, b) => a[0] - b[0]);
  let begun = 0;
  /** Until a check at or after this instant every wake is kept. */
  let untilMs = Number.NEGATIVE_INFINITY;
  let skipped: OfferedWake[] = [];
  let skippedChecks = 0;
  const beginUpTo = (lastMs: number): void => {
    for (; begun < spans.length; begun += 1) {
      const [fromMs, toMs] = itemAt(spans, begun);
      if (fromMs > lastMs) break;
      untilMs = Math.max(untilMs, toMs);
      for (const { record } of skipped) wakes.push(record());
      skipped = [];
      skippedChecks = 0;
    }
  };
  const offer = (wake: OfferedWake): void => {
    beginUpTo(wake.lastMs);
    if (untilMs > Number.NEGATIVE_INFINITY) {
      wakes.push(wake.record());
      if (wake.lastCheckMs !== null && wake.lastCheckMs >= untilMs) {
        untilMs = Number.NEGATIVE_INFINITY;
      }
      return;
    }
    skipped.push(wake);
    if (wake.lastCheckMs !== null) skippedChecks += 1;
    while (skippedChecks > before) {
      if (skipped.shift()?.lastCheckMs !== null) skippedChecks -= 1;
    }
  };
  return { offer, close: () => beginUpTo(Number.POSITIVE_INFINITY) };
}
