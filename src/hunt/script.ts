// What is done to a watch, told by what the device is about to do: open just after its second check from now, cut the
// power while it boots. Scripts are drawn and shrunk; staging one turns it into instants.

import fc from 'fast-check';
import { dayMs, hourMs } from '../base/index.js';
import { mostInSeries, mostLateStrokes, mostStrokes } from '../model/index.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';
import { type Turn, turnsOf } from './turns.js';

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
  | { readonly kind: 'cooldown' | 'heartbeat'; readonly byMs: number }
  /** A share of what is left of the timeline, on a logarithmic scale. */
  | { readonly kind: 'quiet'; readonly share: number }
  /** Until so near to where something that the device counts comes round; `share` as in `turnAfter`. */
  | {
      readonly kind: 'turn';
      readonly turn: Turn;
      readonly since: 'power-on' | 'now';
      readonly share: number;
      readonly byMs: number;
    };

/** What befalls the device, the door apart. */
export type FaultAct =
  | { readonly kind: 'reset' }
  | { readonly kind: 'outage'; readonly forMs: number }
  | { readonly kind: 'powerCut'; readonly forMs: number };

export type Act =
  | { readonly kind: 'open' }
  | { readonly kind: 'shut' }
  /** Open for as long as it says. */
  | { readonly kind: 'visit'; readonly forMs: number }
  /** Open again and again, for the same time each. */
  | {
      readonly kind: 'series';
      readonly count: number;
      readonly everyMs: number;
      readonly forMs: number;
    }
  /** Open for as long as it says, with faults in their order, each at a time counted from the opening. */
  | {
      readonly kind: 'troubled';
      readonly forMs: number;
      readonly faults: readonly { readonly afterMs: number; readonly fault: FaultAct }[];
    }
  /** Shut, and open again so soon after. */
  | { readonly kind: 'reopen'; readonly forMs: number }
  | FaultAct
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
  /** Whether the timeline goes on to its full length, or ends soon after the last stroke. */
  readonly runsOn: boolean;
}

/** One script in this number has long quiet stretches, where timelines are long enough; one of those in the other runs on to the end. */
const lateOnceIn = 5;
const runsOnOnceIn = 4;
const leastLateMs = 2 * dayMs;

/** One script in this number may leave the door open for good. */
const leftOpenOnceIn = 8;

/** Scripts for a question; with fewer faults than its adversity allows, or as many. Shrink to fewer strokes. */
export function scripts(question: HuntQuestion): fc.Arbitrary<Script> {
  const wait = waits(question);
  const act = acts(question);
  const usual = fc.record({
    strokes: fc.array(fc.record({ wait, act }), {
      minLength: 1,
      maxLength: mostStrokes,
      size: 'max',
    }),
    ending: fc.option(wait, { freq: leftOpenOnceIn - 1 }),
    runsOn: fc.constant(false),
  });
  if (question.lengthMs < leastLateMs) return usual;
  const late = fc.record({ wait: lateWaits(question, wait), act: lateActs(question, act) });
  return fc.oneof(
    { weight: lateOnceIn - 1, arbitrary: usual },
    {
      weight: 1,
      arbitrary: fc.record({
        strokes: fc.array(late, { minLength: 1, maxLength: mostLateStrokes, size: 'max' }),
        ending: fc.option(wait, { freq: leftOpenOnceIn - 1 }),
        runsOn: fc.nat(runsOnOnceIn - 1).map((drawn) => drawn === runsOnOnceIn - 1),
      }),
    },
  );
}

/** Faults in one visit. */
const mostInVisit = 2;

/** A rest or a silence around a turn is not longer. */
const farFromTurnMs = 6 * hourMs;

/** Shares in steps that shrink well. */
const shares = fc.nat(1_000).map((thousandths) => thousandths / 1_000);

/** Of quiet stretches one in three takes a good part of what is left: a tenth of the logarithm of two months is all but six days. */
const quietShares = fc.oneof(
  { weight: 2, arbitrary: shares },
  { weight: 1, arbitrary: fc.nat(100).map((less) => 1 - less / 1_000) },
);

/** Waits among which are long quiet stretches, to any instant or to where a counter comes round. */
function lateWaits(question: HuntQuestion, usual: fc.Arbitrary<Wait>): fc.Arbitrary<Wait> {
  const turns = turnsOf(question);
  // Firmware does its housekeeping by the calendar more often than by a counter.
  const calendar = turns.filter(
    ({ of, period }) => of === 'clock' && period >= dayMs && period % dayMs === 0,
  );
  const { checkMs } = rhythmOf(question.watch, question.timing);
  const before = (ms: number): fc.Arbitrary<number> =>
    fc.integer({ min: -Math.max(1, ms), max: 0 });
  const turn = fc.record({
    kind: fc.constant('turn' as const),
    turn: fc.oneof(
      { weight: 2, arbitrary: fc.constantFrom(...turns) },
      { weight: 1, arbitrary: fc.constantFrom(...(calendar.length > 0 ? calendar : turns)) },
    ),
    since: fc.constantFrom<('power-on' | 'now')[]>('power-on', 'power-on', 'now'),
    share: fc.oneof(fc.constant(0), shares),
    byMs: fc.oneof(
      fc.constantFrom(0, 1, -1),
      fc.integer({ min: -checkMs, max: checkMs }),
      before(warningMsOf(question) + checkMs),
      before(warningMsOf(question) + question.watch.alertCooldownMs),
      fc.integer({ min: -farFromTurnMs, max: farFromTurnMs }),
    ),
  });
  return fc.oneof(
    { weight: 2, arbitrary: usual },
    { weight: 2, arbitrary: quietShares.map((share): Wait => ({ kind: 'quiet', share })) },
    { weight: turns.length > 0 ? 4 : 0, arbitrary: turn },
  );
}

/** Acts among which are visits that leave the door shut: what is left open would stay so for days. */
function lateActs(question: HuntQuestion, usual: fc.Arbitrary<Act>): fc.Arbitrary<Act> {
  const { judge, watch } = question;
  const { checkMs } = rhythmOf(watch, question.timing);
  const lengths = fc
    .tuple(
      fc.constantFrom(judge.leaveOpenAfterMs, judge.leaveOpenAfterMs + watch.alertCooldownMs),
      fc.oneof(fc.constant(0), fc.nat(2 * checkMs)),
    )
    .map(([ms, more]) => ms + more);
  const everyMs = fc.integer({ min: 2 * hourMs, max: 14 * hourMs });
  // At all hours of many days: what is wrong only at some of them shows.
  const series = fc.record({
    kind: fc.constant('series' as const),
    count: fc.integer({ min: 2, max: mostInSeries }),
    everyMs,
    forMs: lengths,
  });
  const troubled = troubledVisits(question, lengths);
  return fc.oneof(
    { weight: 3, arbitrary: usual },
    { weight: 1, arbitrary: series },
    { weight: 5, arbitrary: lengths.map((forMs): Act => ({ kind: 'visit', forMs })) },
    ...(troubled === null ? [] : [{ weight: 3, arbitrary: troubled }]),
  );
}

/** Visits with faults about when the device decides, while the door is open, or soon after: so that what is wrong only late and only then shows. Null: nothing may go wrong. */
function troubledVisits(
  question: HuntQuestion,
  lengths: fc.Arbitrary<number>,
): fc.Arbitrary<Act> | null {
  const { adversity } = question;
  const warningMs = warningMsOf(question);
  const lasting = (longestMs: number): fc.Arbitrary<number> =>
    fc.oneof(fc.constant(longestMs), fc.integer({ min: 1, max: Math.max(1, longestMs) }));
  const faults: fc.Arbitrary<FaultAct>[] = [
    ...(adversity.outages > 0
      ? [lasting(adversity.longestOutageMs).map((forMs): FaultAct => ({ kind: 'outage', forMs }))]
      : []),
    ...(adversity.resets > 0 ? [fc.constant<FaultAct>({ kind: 'reset' })] : []),
    ...(adversity.powerLosses > 0
      ? [
          lasting(adversity.longestPowerLossMs).map(
            (forMs): FaultAct => ({ kind: 'powerCut', forMs }),
          ),
        ]
      : []),
  ];
  if (faults.length === 0) return null;
  const placed = fc.tuple(
    shares,
    fc.constantFrom('early', 'early', 'within', 'after'),
    fc.oneof(...faults),
  );
  return fc
    .tuple(lengths, fc.array(placed, { minLength: 1, maxLength: mostInVisit, size: 'max' }))
    .map(([forMs, drawn]): Act => {
      const all = drawn.map(([share, where, fault]) => ({
        afterMs: Math.round(
          where === 'early'
            ? share * Math.min(forMs, warningMs)
            : where === 'within'
              ? share * forMs
              : forMs + share * warningMs,
        ),
        fault,
      }));
      return { kind: 'troubled', forMs, faults: all.toSorted((a, b) => a.afterMs - b.afterMs) };
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
