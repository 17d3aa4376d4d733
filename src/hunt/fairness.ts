// The watch is not blamed for what a fault makes impossible. A leave-open counts when the device had a chance: power
// and a true contact long enough to see a leave-open, and then, the power never failing, a network long enough to send.
import type { Span } from '../timeline/index.js';
import type { ContactFault, Spans } from '../world/index.js';
import { longestPeriodMs } from './pace.js';
import type { Ran } from './question.js';

/** What lies between spans, from 0 to `endMs`. */
export function between(spans: Spans, endMs: number): readonly Span[] {
  const free: Span[] = [];
  let fromMs = 0;
  spans.fromMs.forEach((spanFromMs, index) => {
    if (spanFromMs > fromMs) free.push([fromMs, spanFromMs]);
    fromMs = spans.toMs[index] ?? endMs;
  });
  if (fromMs < endMs) free.push([fromMs, endMs]);
  return free;
}

function mayRead(fault: ContactFault, reading: 'open' | 'shut'): boolean {
  return fault.reads.kind === 'chattering' || fault.reads.at === reading;
}

/** Whether the contact may have read `reading` by a fault at some time in a stretch. */
export function misreadWithin(
  { trial }: Ran,
  reading: 'open' | 'shut',
  [fromMs, toMs]: Span,
): boolean {
  return trial.contactFaults.some(
    (fault) => mayRead(fault, reading) && fault.fromMs < toMs && fault.toMs > fromMs,
  );
}

/** When the door has been seen to stand open for `forMs` in all, since `fromMs`; null: not before `toMs`. */
function seenOpenAtMs({ trial }: Ran, [fromMs, toMs]: Span, forMs: number): number | null {
  let leftMs = forMs;
  let atMs = fromMs;
  for (const fault of trial.contactFaults) {
    if (!mayRead(fault, 'shut') || fault.toMs <= atMs) continue;
    const trueMs = Math.max(0, fault.fromMs - atMs);
    if (trueMs >= leftMs) break;
    leftMs -= trueMs;
    atMs = fault.toMs;
  }
  return atMs + leftMs <= toMs ? atMs + leftMs : null;
}

/** Time enough for any pending alert to be tried: what resets can take away is added. */
function graceMs({ question, trial }: Ran): number {
  const { watch } = question;
  const periodMs = longestPeriodMs(watch, trial.timing);
  return periodMs * (1 + trial.resets.length);
}

/** Whether from `fromMs` to `untilMs` the network is up, at a stretch, for long enough to send. */
export function mayBeSent(ran: Ran, [fromMs, untilMs]: Span): boolean {
  const neededMs = graceMs(ran);
  return between(ran.world.networkDown, ran.world.lengthMs).some(
    ([upMs, downMs]) => Math.min(downMs, untilMs) - Math.max(upMs, fromMs) >= neededMs,
  );
}

/** Whether the device had a chance to see that an opening is a leave-open, and to report it. */
export function hadAChance(ran: Ran, [fromMs, toMs]: Span): boolean {
  const { leaveOpenAfterMs } = ran.question.judge;
  return between(ran.world.powerLost, ran.world.lengthMs).some(([onMs, offMs]) => {
    const seen: Span = [Math.max(onMs, fromMs), Math.min(offMs, toMs)];
    if (seen[1] - seen[0] < leaveOpenAfterMs) return false;
    const seenMs = seenOpenAtMs(ran, seen, leaveOpenAfterMs);
    return seenMs !== null && mayBeSent(ran, [seenMs, offMs]);
  });
}

/** How long, from `fromMs` to `toMs`, nothing kept the device from seeing the door and sending. */
export function goodTimeMs(ran: Ran, [fromMs, toMs]: Span): number {
  const { networkDown, powerLost, lengthMs } = ran.world;
  const misread = ran.trial.contactFaults.filter((fault) => mayRead(fault, 'shut'));
  let sumMs = 0;
  for (const [onMs, offMs] of between(powerLost, lengthMs)) {
    for (const [upMs, downMs] of between(networkDown, lengthMs)) {
      const startMs = Math.max(fromMs, onMs, upMs);
      const endMs = Math.min(toMs, offMs, downMs);
      if (startMs >= endMs) continue;
      sumMs += endMs - startMs;
      for (const fault of misread) {
        sumMs -= Math.max(0, Math.min(endMs, fault.toMs) - Math.max(startMs, fault.fromMs));
      }
    }
  }
  return sumMs;
}
