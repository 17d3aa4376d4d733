// How long to wait before a stroke: until near to something that the device does, or for a length at which something changes.
import fc from 'fast-check';
import { dayMs, hourMs, minuteMs } from '../base/index.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';
import type { Moment, Wait } from './stroke.js';
import { logShare, turnsOf } from './turns.js';

/** A rest or a silence around a turn is not longer. */
const farFromTurnMs = 6 * hourMs;

/** Shares in steps that shrink well. */
export const shares = fc.nat(1_000).map((thousandths) => thousandths / 1_000);

/** Of quiet stretches most take a good part of what is left: on the logarithm of two months, a tenth is all but six days, and 4 % more than half. */
const quietShares = fc.oneof(
  shares,
  fc.nat(100).map((less) => 1 - less / 1_000),
  fc.nat(40).map((less) => 1 - less / 1_000),
);

/** Waits among which are long quiet stretches, to any instant or to where a counter comes round. */
export function lateWaits(question: HuntQuestion, usual: fc.Arbitrary<Wait>): fc.Arbitrary<Wait> {
  const { checkMs } = rhythmOf(question.watch, question.timing);
  const before = (ms: number): fc.Arbitrary<number> =>
    fc.integer({ min: -Math.max(1, ms), max: 0 });
  const turn = turnWaits(
    question,
    fc.oneof(
      { weight: 1, arbitrary: fc.constantFrom(0, 1, -1) },
      { weight: 1, arbitrary: fc.integer({ min: -checkMs, max: checkMs }) },
      { weight: 1, arbitrary: before(warningMsOf(question) + checkMs) },
      {
        weight: 1,
        arbitrary: before(warningMsOf(question) + question.watch.alertCooldownMs),
      },
      // What was begun in an outage is still open when it comes round.
      {
        weight: 3,
        arbitrary: before(warningMsOf(question) + question.adversity.longestOutageMs),
      },
      { weight: 1, arbitrary: fc.integer({ min: -farFromTurnMs, max: farFromTurnMs }) },
    ),
  );
  return fc.oneof(
    { weight: 2, arbitrary: usual },
    { weight: 2, arbitrary: quietShares.map((share): Wait => ({ kind: 'quiet', share })) },
    ...(turn === null ? [] : [{ weight: 4, arbitrary: turn }]),
  );
}

/** Until so near to where something that the device counts comes round; null: nothing does in timelines of this length. */
export function turnWaits(
  question: HuntQuestion,
  byMs: fc.Arbitrary<number>,
): fc.Arbitrary<Extract<Wait, { readonly kind: 'turn' }>> | null {
  const turns = turnsOf(question);
  if (turns.length === 0) return null;
  // Firmware does its housekeeping by the calendar more often than by a counter.
  const calendar = turns.filter(
    ({ of, period }) => of === 'clock' && period >= dayMs && period % dayMs === 0,
  );
  return fc.record({
    kind: fc.constant('turn' as const),
    turn: fc.oneof(
      { weight: 1, arbitrary: fc.constantFrom(...turns) },
      { weight: 1, arbitrary: fc.constantFrom(...(calendar.length > 0 ? calendar : turns)) },
    ),
    since: fc.constantFrom<('power-on' | 'now')[]>('power-on', 'power-on', 'now'),
    share: fc.oneof(fc.constant(0), shares),
    byMs,
  });
}

export function waits(question: HuntQuestion): fc.Arbitrary<Wait> {
  const { bootMs, retryMs } = rhythmOf(question.watch, question.timing);
  const nearby = nearAPart(question);
  const moment = moments(question);
  const length = fc
    .tuple(fc.constantFrom(...criticalLengthsMs(question)), nearby)
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
export function warningMsOf({ watch, timing }: Pick<HuntQuestion, 'watch' | 'timing'>): number {
  const { checkMs, recheckMs } = rhythmOf(watch, timing);
  return checkMs + (watch.escalationThreshold.open - 1) * recheckMs;
}

/** Lengths at which something changes for the device or for its owner, ascending. */
export function criticalLengthsMs({
  watch,
  timing,
  judge,
  lengthMs,
}: HuntQuestion): readonly number[] {
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

/** Near to an instant: at it, by milliseconds, or by as much as a part of a wake. */
export function near(partMs: number): fc.Arbitrary<number> {
  const mostMs = Math.max(1, partMs);
  return fc.oneof(
    fc.constantFrom(0, 1, -1),
    fc.integer({ min: -5, max: 5 }),
    fc.integer({ min: -mostMs, max: mostMs }),
  );
}

/** One of some lengths, or a little more. */
export function lengthWaits(lengthsMs: readonly number[]): fc.Arbitrary<Wait> {
  return fc
    .tuple(fc.constantFrom(...lengthsMs), fc.oneof(fc.constant(0), fc.nat(10 * minuteMs)))
    .map(([ms, more]): Wait => ({ kind: 'length', ms: Math.max(1, ms + more) }));
}

/** Lengths between two on a logarithmic scale. */
export function logLengths(
  leastMs: number,
  mostMs: number,
): fc.Arbitrary<Extract<Wait, { readonly kind: 'length' }>> {
  return shares.map((share) => ({
    kind: 'length',
    ms: leastMs + logShare(Math.max(0, mostMs - leastMs), share),
  }));
}

/** Near to a part of one of the coming wakes. */
export function moments(question: HuntQuestion): fc.Arbitrary<Wait> {
  return fc.record({
    kind: fc.constant('moment' as const),
    checks: fc.constantFrom(0, 0, 1, 1, 2, 3, 4),
    moment: fc.constantFrom<Moment[]>('check', 'check', 'wake', 'asleep', 'sent'),
    byMs: nearAPart(question),
  });
}

function nearAPart(question: HuntQuestion): fc.Arbitrary<number> {
  const { bootMs, connectMs, checkMs } = rhythmOf(question.watch, question.timing);
  const part = Math.max(bootMs, connectMs);
  return fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(0, 0, 1, -1) },
    { weight: 1, arbitrary: fc.integer({ min: -part, max: part }) },
    { weight: 2, arbitrary: fc.integer({ min: -checkMs, max: checkMs }) },
  );
}
