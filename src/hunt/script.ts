// What is done to a watch, told by what the device is about to do: open just after its second check from now, cut the
// power while it boots. Scripts are drawn and shrunk; staging one turns it into instants.
import fc from 'fast-check';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';

/** A part of a wake. */
export type Moment = 'check' | 'wake' | 'asleep' | 'sent';

/** How long to wait before the next stroke. */
export type Wait =
  /** Until so near to a part of a coming wake; `checks` wakes with a check go by before. */
  | {
      readonly kind: 'moment';
      readonly checks: number;
      readonly moment: Moment;
      readonly byMs: number;
    }
  /** The time after the last stroke. */
  | { readonly kind: 'length'; readonly ms: number }
  /** Until so near to the end of the cooldown of the last delivery, or to the next heartbeat. */
  | { readonly kind: 'cooldown' | 'heartbeat'; readonly byMs: number };

export type Act =
  | { readonly kind: 'open' }
  | { readonly kind: 'shut' }
  /** Shut, and open again so soon after. */
  | { readonly kind: 'reopen'; readonly forMs: number }
  | { readonly kind: 'reset' }
  | { readonly kind: 'outage'; readonly forMs: number }
  | { readonly kind: 'powerCut'; readonly forMs: number }
  | { readonly kind: 'misread'; readonly forMs: number; readonly reads: 'shut' | 'at random' };

export interface Stroke {
  readonly wait: Wait;
  readonly act: Act;
}

/** Strokes one after the other. */
export interface Script {
  readonly strokes: readonly Stroke[];
  /** When a door that still stands open is shut at last; null: never. */
  readonly ending: Wait | null;
}

/** The most strokes of a script. */
const mostStrokes = 20;

/** One script in this number may leave the door open for good. */
const leftOpenOnceIn = 8;

/** Scripts for a question; with fewer faults than its adversity allows, or as many. Shrink to fewer strokes. */
export function scripts(question: HuntQuestion): fc.Arbitrary<Script> {
  const wait = waits(question);
  const stroke = fc.record({ wait, act: acts(question) });
  return fc.record({
    strokes: fc.array(stroke, { minLength: 1, maxLength: mostStrokes, size: 'max' }),
    ending: fc.option(wait, { freq: leftOpenOnceIn - 1 }),
  });
}

function waits(question: HuntQuestion): fc.Arbitrary<Wait> {
  const { bootMs, connectMs, checkMs, retryMs } = rhythmOf(question.watch, question.timing);
  const few = fc.constantFrom(0, 0, 1, -1);
  const part = Math.max(bootMs, connectMs);
  const nearby = fc.oneof(
    { weight: 4, arbitrary: few },
    { weight: 1, arbitrary: fc.integer({ min: -part, max: part }) },
    { weight: 2, arbitrary: fc.integer({ min: -checkMs, max: checkMs }) },
  );
  const moment = fc.record({
    kind: fc.constant('moment' as const),
    checks: fc.constantFrom(0, 0, 1, 1, 2, 3, 4),
    moment: fc.constantFrom<Moment[]>('check', 'check', 'wake', 'asleep', 'sent'),
    byMs: nearby,
  });
  const length = fc
    .tuple(fc.constantFrom(...telling(question)), nearby)
    .map(([ms, byMs]): Wait => ({ kind: 'length', ms: Math.max(1, ms + byMs) }));
  const cooldown = nearby.map((byMs): Wait => ({ kind: 'cooldown', byMs: byMs - bootMs }));
  const hasCooldown = question.watch.alertCooldownMs > 0;
  // Where an alert is decided or tried again just as a heartbeat is due.
  const warningMs = warningMsOf(question);
  const heartbeat = fc
    .tuple(fc.constantFrom(0, warningMs, warningMs + retryMs, warningMs + 2 * retryMs), nearby)
    .map(([beforeMs, byMs]): Wait => ({ kind: 'heartbeat', byMs: byMs - beforeMs }));
  const hasHeartbeat = question.watch.heartbeatIntervalMs !== null;
  return fc.oneof(
    { weight: 6, arbitrary: moment },
    { weight: 4, arbitrary: length },
    { weight: hasCooldown ? 1 : 0, arbitrary: cooldown },
    { weight: hasHeartbeat ? 2 : 0, arbitrary: heartbeat },
  );
}

/** From an opening at its worst to the check that decides its alert. */
function warningMsOf({ watch, timing }: Pick<HuntQuestion, 'watch' | 'timing'>): number {
  const { checkMs, recheckMs } = rhythmOf(watch, timing);
  return checkMs + (watch.escalationThreshold.open - 1) * recheckMs;
}

/** Lengths at which something changes for the device or for its owner, ascending. */
export function telling({ watch, timing, judge, lengthMs }: HuntQuestion): readonly number[] {
  const { checkMs, recheckMs, retryMs, bootMs, connectMs } = rhythmOf(watch, timing);
  const { alertCooldownMs, heartbeatIntervalMs, retryAttempts } = watch;
  const warningMs = warningMsOf({ watch, timing });
  const lengths = [
    ...[1, 1_000, bootMs, connectMs, checkMs, recheckMs, retryMs, warningMs],
    ...[judge.leaveOpenAfterMs, judge.quietUpToMs ?? 0, judge.reportWithinMs ?? 0],
    ...[alertCooldownMs, heartbeatIntervalMs ?? 0, retryMs * retryAttempts + checkMs],
    ...[3_600_000, 21_600_000],
  ];
  const sensible = lengths.filter((ms) => ms >= 1 && ms < lengthMs);
  return [...new Set([1, ...sensible])].sort((a, b) => a - b);
}

function acts(question: HuntQuestion): fc.Arbitrary<Act> {
  const { adversity, watch, timing } = question;
  const { checkMs } = rhythmOf(watch, timing);
  const lasting = (longestMs: number): fc.Arbitrary<number> =>
    fc
      .oneof(
        { weight: 3, arbitrary: fc.constantFrom(...telling(question)) },
        { weight: 1, arbitrary: fc.integer({ min: 1, max: Math.max(1, longestMs) }) },
      )
      .map((ms) => Math.min(Math.max(1, ms), Math.max(1, longestMs)));
  const plain = (kind: 'open' | 'shut' | 'reset'): fc.Arbitrary<Act> => fc.constant({ kind });
  const shutFor = fc.oneof(fc.constantFrom(1, 2, 1_000), fc.integer({ min: 1, max: checkMs }));
  return fc.oneof(
    { weight: 5, arbitrary: plain('open') },
    { weight: 5, arbitrary: plain('shut') },
    { weight: 2, arbitrary: shutFor.map((forMs): Act => ({ kind: 'reopen', forMs })) },
    { weight: adversity.resets > 0 ? 2 : 0, arbitrary: plain('reset') },
    {
      weight: adversity.outages > 0 ? 2 : 0,
      arbitrary: lasting(adversity.longestOutageMs).map(
        (forMs): Act => ({ kind: 'outage', forMs }),
      ),
    },
    {
      weight: adversity.powerLosses > 0 ? 2 : 0,
      arbitrary: lasting(adversity.longestPowerLossMs).map(
        (forMs): Act => ({ kind: 'powerCut', forMs }),
      ),
    },
    {
      weight: adversity.misreads > 0 ? 2 : 0,
      arbitrary: fc
        .tuple(lasting(adversity.longestChatterMs), fc.constantFrom('shut', 'shut', 'at random'))
        .map(([forMs, reads]): Act => ({ kind: 'misread', forMs, reads })),
    },
  );
}
