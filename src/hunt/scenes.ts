// Strokes that belong together as a small story: faults while an alert is pending, around a send, within a cooldown or in a long
// opening, and a row of brief visits. Single strokes come to such combinations too seldom. Each begins and ends with the door shut.
import fc from 'fast-check';
import { dayMs, hourMs, minuteMs } from '../base/index.js';
import { mostBriefVisits } from '../model/index.js';
import { lasting, mendableFaults } from './acts.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';
import type { Act, FaultAct, Stroke, Wait } from './stroke.js';
import { logShare } from './turns.js';
import {
  criticalLengthsMs,
  lengthWaits,
  logLengths,
  moments,
  near,
  shares,
  turnWaits,
  warningMsOf,
} from './waits.js';

/** @param first waits for the stroke that a scene begins with. */
export function scenes(
  question: HuntQuestion,
  first: fc.Arbitrary<Wait>,
): fc.Arbitrary<readonly Stroke[]> {
  const { adversity } = question;
  const faults = mendableFaults(question);
  const all = [
    ...(adversity.outages > 0 ? [{ weight: 4, arbitrary: pendingAlert(question) }] : []),
    ...(faults.length > 0
      ? [
          { weight: 1, arbitrary: aroundASend(question, fc.oneof(...faults)) },
          { weight: 2, arbitrary: withinACooldown(question, fc.oneof(...faults)) },
        ]
      : []),
    { weight: 1, arbitrary: longOpening(question, faults) },
    { weight: 1, arbitrary: briefVisits(question) },
  ];
  return fc
    .tuple(first, fc.oneof(...all))
    .map(([wait, strokes]) =>
      strokes.map((stroke, index) => (index === 0 ? { wait, act: stroke.act } : stroke)),
    );
}

const atOnce: Wait = { kind: 'length', ms: 1 };
const opens: Stroke = { wait: atOnce, act: { kind: 'open' } };
const shuts: Act = { kind: 'shut' };
const nothing: Act = { kind: 'nothing' };

/** The door is shut when it has been a leave-open for some time, or sooner; at once or near to a part of a wake. */
function endings(question: HuntQuestion): fc.Arbitrary<readonly Stroke[]> {
  const { leaveOpenAfterMs } = question.judge;
  const { alertCooldownMs } = question.watch;
  const length = fc.oneof(
    lengthWaits([leaveOpenAfterMs, leaveOpenAfterMs + alertCooldownMs]),
    fc.constantFrom(...criticalLengthsMs(question)).map((ms): Wait => ({ kind: 'length', ms })),
  );
  return fc.tuple(length, fc.option(moments(question), { freq: 2 })).map(([wait, moment]) =>
    moment === null
      ? [{ wait, act: shuts }]
      : [
          { wait, act: nothing },
          { wait: moment, act: shuts },
        ],
  );
}

/** Brief visits while an alert waits. */
const mostWaiting = 10;

/** An alert is decided in an outage; before it is over, something else happens. */
function pendingAlert(question: HuntQuestion): fc.Arbitrary<readonly Stroke[]> {
  const { adversity } = question;
  const { connectMs, retryMs } = rhythmOf(question.watch, question.timing);
  const start = fc.oneof(
    fc.integer({ min: 0, max: warningMsOf(question) }).map((ms): Wait => ({ kind: 'length', ms })),
    fc
      .integer({ min: -connectMs, max: connectMs })
      .map((byMs): Wait => ({ kind: 'attempt', at: 'start', byMs })),
  );
  const outage = lasting(adversity.longestOutageMs).map(
    (forMs): Act => ({ kind: 'outage', forMs }),
  );
  const meanwhile = fc.oneof(
    { weight: 2, arbitrary: attempts(question) },
    { weight: 1, arbitrary: lengthWaits([retryMs]) },
    {
      weight: 1,
      arbitrary: logLengths(1_000, Math.max(1_000, Math.floor(adversity.longestOutageMs / 2))),
    },
  );
  const faults = boots(question);
  const opensAgain = fc.constant<Act>({ kind: 'open' });
  const brief = fc
    .integer({ min: 1, max: briefMsOf(question) })
    .map((forMs): Act => ({ kind: 'visit', forMs }));
  // A queue of events that has room for a few of them.
  const visits = fc
    .record({
      count: fc.integer({ min: 3, max: mostWaiting }),
      everyMs: fc.integer({
        min: briefMsOf(question) + 1,
        max: briefMsOf(question) + 5 * minuteMs,
      }),
      forMs: fc.integer({ min: 1, max: briefMsOf(question) }),
    })
    .map((drawn): Act => ({ kind: 'series', ...drawn }));
  const whileOpen = fc.oneof(
    ...faults,
    { weight: 2, arbitrary: fc.constant(shuts) },
    { weight: 1, arbitrary: opensAgain },
    {
      weight: 2,
      arbitrary: fc
        .integer({ min: 1, max: 10 * minuteMs })
        .map((forMs): Act => ({ kind: 'reopen', forMs })),
    },
  );
  const soonAfter = (act: fc.Arbitrary<Act>, most: number): fc.Arbitrary<readonly Stroke[]> =>
    fc.array(fc.record({ wait: meanwhile, act }), { minLength: 1, maxLength: most, size: 'max' });
  // An alert that is still to be sent after the door was shut has nothing else to bring it back.
  const afterShut = fc
    .tuple(
      meanwhile,
      soonAfter(
        fc.oneof(
          ...faults,
          { weight: 1, arbitrary: opensAgain },
          { weight: 1, arbitrary: brief },
          { weight: 1, arbitrary: visits },
        ),
        2,
      ),
    )
    .map(([wait, more]): readonly Stroke[] => [{ wait, act: shuts }, ...more]);
  return fc
    .tuple(start, outage, fc.oneof(soonAfter(whileOpen, 3), afterShut), endings(question))
    .map(([wait, act, strokes, end]) => [opens, { wait, act }, ...strokes, ...end]);
}

/**
 * An alert is decided in an outage, and still to be sent as something that the device counts comes round: mostly with the door shut by then, so
 * that nothing brings it back if it is forgotten. Null: there are no outages, or nothing comes round.
 */
export function pendingAcrossATurn(question: HuntQuestion): fc.Arbitrary<readonly Stroke[]> | null {
  const { adversity, watch, timing } = question;
  const { recheckMs, connectMs } = rhythmOf(watch, timing);
  const warningMs = warningMsOf(question);
  const longestMs = adversity.longestOutageMs;
  const wait = turnWaits(question, fc.constant(0));
  if (adversity.outages === 0 || longestMs < 2 * minuteMs || wait === null) return null;
  // The network is down before the device can have decided.
  const earliestMs = (watch.escalationThreshold.open - 1) * recheckMs;
  const drawn = fc.record({
    wait,
    downAfterMs: fc.nat(earliestMs),
    forMs: fc.oneof(
      fc.constant(longestMs),
      fc.integer({ min: Math.floor(longestMs / 2), max: longestMs }),
    ),
    shutAfter: logLengths(1_000, Math.max(2_000, Math.floor(longestMs / 2))),
    share: shares,
    shutFirst: fc.constantFrom(true, true, true, false),
    more: fc.option(
      fc.record({ wait: logLengths(1_000, longestMs), act: fc.oneof(...boots(question), opening) }),
      { freq: 2 },
    ),
    end: endings(question),
  });
  return drawn.map(({ wait: turn, downAfterMs, forMs, shutAfter, share, shutFirst, more, end }) => {
    const upMs = downAfterMs + forMs;
    const shutMs = warningMs + connectMs + shutAfter.ms;
    const [fromMs, toMs] = shutFirst ? [shutMs, upMs] : [warningMs, Math.min(shutMs, upMs)];
    const turnMs = Math.round(fromMs + share * Math.max(0, toMs - fromMs));
    return [
      { wait: { ...turn, byMs: -turnMs }, act: { kind: 'open' } },
      { wait: { kind: 'length', ms: Math.max(1, downAfterMs) }, act: { kind: 'outage', forMs } },
      { wait: { kind: 'length', ms: Math.max(1, shutMs - downAfterMs) }, act: shuts },
      ...(more === null ? [] : [more]),
      ...end,
    ];
  });
}

const opening: { readonly weight: number; readonly arbitrary: fc.Arbitrary<Act> } = {
  weight: 1,
  arbitrary: fc.constant({ kind: 'open' }),
};

/** Faults after which a device starts again. */
function boots({
  adversity,
}: HuntQuestion): readonly { readonly weight: number; readonly arbitrary: fc.Arbitrary<Act> }[] {
  const { resets, powerLosses, longestPowerLossMs } = adversity;
  const cut = lasting(longestPowerLossMs).map((forMs): Act => ({ kind: 'powerCut', forMs }));
  return [
    ...(resets > 0 ? [{ weight: 3, arbitrary: fc.constant<Act>({ kind: 'reset' }) }] : []),
    ...(powerLosses > 0 ? [{ weight: 1, arbitrary: cut }] : []),
  ];
}

/** A fault within milliseconds or seconds of the start or the end of a send. */
function aroundASend(
  question: HuntQuestion,
  fault: fc.Arbitrary<FaultAct>,
): fc.Arbitrary<readonly Stroke[]> {
  return fc
    .tuple(attempts(question), fault, endings(question))
    .map(([wait, act, end]) => [opens, { wait, act }, ...end]);
}

/** After a delivery, before the cooldown is over or as it ends: a fault, or a door that is shut for a moment. */
function withinACooldown(
  question: HuntQuestion,
  fault: fc.Arbitrary<FaultAct>,
): fc.Arbitrary<readonly Stroke[]> {
  const { watch, timing } = question;
  const { checkMs, connectMs } = rhythmOf(watch, timing);
  const delivered = fc
    .integer({ min: 1, max: Math.max(1, 2 * connectMs) })
    .map((byMs): Wait => ({ kind: 'attempt', at: 'end', byMs }));
  const happens = fc.oneof(
    { weight: 3, arbitrary: fault },
    {
      weight: 1,
      arbitrary: fc
        .integer({ min: 1, max: 2 * checkMs })
        .map((forMs): Act => ({ kind: 'reopen', forMs })),
    },
  );
  const later = fc.oneof(
    near(checkMs).map((byMs): Wait => ({ kind: 'cooldown', byMs })),
    logLengths(1_000, Math.max(1_000, watch.alertCooldownMs)),
  );
  const more = fc.array(fc.record({ wait: later, act: happens }), {
    minLength: 1,
    maxLength: 2,
    size: 'max',
  });
  return fc.tuple(delivered, more, endings(question)).map(([wait, [one, ...others], end]) => [
    opens,
    // The wait of the first fault counts from the delivery.
    ...(one === undefined ? [] : [{ wait, act: nothing }, one]),
    ...others,
    ...end,
  ]);
}

/** Open for hours, over many cooldowns, mostly with faults somewhere in it. */
function longOpening(
  question: HuntQuestion,
  faults: readonly fc.Arbitrary<FaultAct>[],
): fc.Arbitrary<readonly Stroke[]> {
  const longestMs = Math.max(2, Math.min(longestOpeningMs, Math.floor(question.lengthMs / 4)));
  const shortestMs = Math.min(question.judge.leaveOpenAfterMs, longestMs - 1);
  const part = logLengths(1_000, longestMs);
  const end = logLengths(Math.max(1, shortestMs), longestMs).map(
    (wait): Stroke => ({ wait, act: shuts }),
  );
  if (faults.length === 0) return end.map((last) => [opens, last]);
  const wait = fc.oneof(part, attempts(question));
  const troubles = fc.array(fc.record({ wait, act: fc.oneof(...faults) }), {
    maxLength: 2,
    size: 'max',
  });
  return fc.tuple(troubles, end).map(([between, last]) => [opens, ...between, last]);
}

const longestOpeningMs = 2 * dayMs;

/** Visits too brief for an alert, one after the other, and then one that is not. */
function briefVisits(question: HuntQuestion): fc.Arbitrary<readonly Stroke[]> {
  const { watch, timing } = question;
  const { checkMs, recheckMs } = rhythmOf(watch, timing);
  const briefMs = briefMsOf(question);
  const seenMs = Math.max(
    briefMs,
    Math.min(checkMs, (watch.escalationThreshold.open - 1) * recheckMs) - 1,
  );
  const everyMs = logLengths(
    Math.max(minuteMs, seenMs + 1),
    Math.max(seenMs + minuteMs, 6 * hourMs),
  );
  const series = fc
    .record({
      count: fc.oneof(
        shares.map((share) => 2 + logShare(mostBriefVisits - 2, share)),
        fc.integer({ min: 2, max: mostBriefVisits }),
      ),
      every: everyMs,
      // Most visits of a few seconds fall between two checks.
      forMs: fc.oneof(
        fc.integer({ min: 1, max: briefMs }),
        near(5_000).map((byMs) => Math.max(1, seenMs + Math.min(0, byMs))),
      ),
    })
    .map(({ count, every, forMs }): Act => ({ kind: 'series', count, everyMs: every.ms, forMs }));
  const then = fc.record({
    wait: everyMs,
    act: fc.constant<Act>({ kind: 'open' }),
  });
  return fc
    .tuple(series, then, endings(question))
    .map(([act, open, end]) => [{ wait: atOnce, act }, open, ...end]);
}

/** Too brief for an alert at most phases of the checks. */
function briefMsOf({ judge, watch, timing }: HuntQuestion): number {
  return Math.max(1, judge.quietUpToMs ?? warningMsOf({ watch, timing }));
}

/** Near to the start or the end of an attempt to send an alert. */
function attempts(question: HuntQuestion): fc.Arbitrary<Wait> {
  const { connectMs } = rhythmOf(question.watch, question.timing);
  return fc.record({
    kind: fc.constant('attempt' as const),
    at: fc.constantFrom<('start' | 'end')[]>('start', 'end'),
    byMs: near(connectMs),
  });
}
