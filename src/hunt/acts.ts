// What happens after a wait: a move of the door, or a fault.
import fc from 'fast-check';
import { hourMs } from '../base/index.js';
import { mostInSeries } from '../model/index.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';
import type { Act, FaultAct } from './stroke.js';
import { criticalLengthsMs, shares, warningMsOf } from './waits.js';

/** Faults in one visit. */
const mostInVisit = 2;

/** Acts among which are visits that leave the door shut: what is left open would stay so for days. */
export function lateActs(question: HuntQuestion, usual: fc.Arbitrary<Act>): fc.Arbitrary<Act> {
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
  const warningMs = warningMsOf(question);
  const faults = mendableFaults(question);
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

/** The faults that may happen, the contact's apart. */
export function mendableFaults({ adversity }: HuntQuestion): readonly fc.Arbitrary<FaultAct>[] {
  return [
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
}

/** As long as may be, or less. */
export function lasting(longestMs: number): fc.Arbitrary<number> {
  return fc.oneof(
    fc.constant(Math.max(1, longestMs)),
    fc.integer({ min: 1, max: Math.max(1, longestMs) }),
  );
}

export function acts(question: HuntQuestion): fc.Arbitrary<Act> {
  const { adversity, watch, timing } = question;
  const { checkMs } = rhythmOf(watch, timing);
  const nearCritical = (longestMs: number): fc.Arbitrary<number> =>
    fc
      .oneof(
        { weight: 3, arbitrary: fc.constantFrom(...criticalLengthsMs(question)) },
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
      arbitrary: nearCritical(adversity.longestOutageMs).map(
        (forMs): Act => ({ kind: 'outage', forMs }),
      ),
    },
    {
      weight: adversity.powerLosses > 0 ? 2 : 0,
      arbitrary: nearCritical(adversity.longestPowerLossMs).map(
        (forMs): Act => ({ kind: 'powerCut', forMs }),
      ),
    },
    {
      weight: adversity.misreads > 0 ? 2 : 0,
      arbitrary: fc
        .tuple(
          nearCritical(adversity.longestChatterMs),
          fc.constantFrom('shut', 'shut', 'at random'),
        )
        .map(([forMs, reads]): Act => ({ kind: 'misread', forMs, reads })),
    },
  );
}
