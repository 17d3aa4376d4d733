// Each row of the two tables of outcomes and kinds, on both sides of its boundary.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InvariantError } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import {
  type JudgedTrace,
  judge,
  type OpeningOutcome,
  openAtEnd,
} from '../../src/verdict/index.js';
import { spansOf } from '../../src/world/index.js';
import { experiments, scales, someLogics } from '../support/arbitraries.js';
import { asked, type Pairs } from '../support/experiments.js';
import { judgeNaively } from '../support/oracle-judge.js';
import { range } from '../support/range.js';

const lengthMs = 10_000;
const leaveOpenAfterMs = 100;

/** A trace with alerts at these instants: decided, delivered. */
function traceWith(
  alerts: readonly (readonly [decidedMs: number, deliveredMs: number | null])[],
): JudgedTrace {
  return {
    lengthMs,
    tally: { checks: 7 },
    alerts: alerts.map(([decidedMs, deliveredMs]) => ({
      decidedMs,
      deliveredMs,
      droppedMs: null,
      forgottenMs: null,
      attempts: [],
    })),
  };
}

function judged(
  openings: Pairs,
  alerts: Parameters<typeof traceWith>[0],
  reportWithinMs: number | null = null,
) {
  return judge(spansOf(openings), traceWith(alerts), asked({ leaveOpenAfterMs, reportWithinMs }));
}

function outcomeOf(...given: Parameters<typeof judged>): OpeningOutcome {
  return judged(...given).openings.at(0).outcome;
}

function kindsOf(...given: Parameters<typeof judged>): string[] {
  return judged(...given).alerts.map(({ kind }) => kind);
}

describe('an opening while the device is without charge', () => {
  const flatFor = (fromMs: number, toMs: number, openings: Pairs = [[1_000, 1_500]]) => {
    const trace = { ...traceWith([]), flat: [{ fromMs, toMs }] };
    return judge(spansOf(openings), trace, asked({ leaveOpenAfterMs }));
  };

  it('for an instant at least is unpowered, and counts as missed', () => {
    for (const [fromMs, toMs] of [
      [0, 1_001],
      [1_499, 9_000],
      [1_200, 1_201],
    ] as const) {
      const { openings, summary } = flatFor(fromMs, toMs);
      expect(openings.at(0)).toMatchObject({ outcome: 'unpowered', durationMs: 500 });
      expect(summary).toMatchObject({ missed: 1, unpowered: 1 });
    }
  });

  it('only before it or after it is missed', () => {
    for (const [fromMs, toMs] of [
      [0, 1_000],
      [1_500, 9_000],
    ] as const) {
      const { openings, summary } = flatFor(fromMs, toMs);
      expect(openings.at(0).outcome).toBe('missed');
      expect(summary).toMatchObject({ missed: 1, unpowered: 0 });
    }
  });

  it('is unpowered also where a span without a state is in it, by the part that was seen', () => {
    const outcomeIn = (fromMs: number, toMs: number, alerts: Parameters<typeof traceWith>[0]) => {
      const trace = { ...traceWith(alerts), flat: [{ fromMs, toMs }] };
      const unavailable = spansOf([[1_200, 1_300]]);
      const wish = asked({ leaveOpenAfterMs });
      return judge(spansOf([[1_000, 1_500]]), trace, wish, unavailable).openings.at(0).outcome;
    };
    expect(outcomeIn(1_199, 1_250, [])).toBe('unpowered');
    expect(outcomeIn(1_200, 1_500, [])).toBe('missed');
    expect(outcomeIn(0, 1_000, [])).toBe('missed');
    expect(outcomeIn(1_100, 1_150, [[1_050, 1_060]])).toBe('reported');
  });
});

describe('alerts that are never delivered', () => {
  it('are counted where there are any', () => {
    const { summary } = judge(
      spansOf([]),
      traceWith([
        [5, null],
        [7, 9],
        [11, null],
      ]),
      asked({ leaveOpenAfterMs }),
    );
    expect(summary).toMatchObject({ alerts: 3, undelivered: 2 });
    const delivered = judge(spansOf([]), traceWith([[7, 9]]), asked({ leaveOpenAfterMs }));
    expect(delivered.summary).not.toHaveProperty('undelivered');
  });
});

describe('low-battery messages', () => {
  it('are counted where there are any', () => {
    const messages = (count: number) => {
      const lowBattery = Array.from({ length: count }, () => ({
        deliveredMs: 5,
        withAlert: false,
      }));
      const { alerts, ...trace } = traceWith([]);
      return judge(spansOf([]), { ...trace, alerts, lowBattery }, asked({ leaveOpenAfterMs }))
        .summary;
    };
    expect(messages(2)).toMatchObject({ lowBatteryMessages: 2 });
    expect(messages(0)).not.toHaveProperty('lowBatteryMessages');
  });
});

describe('the opening at the end', () => {
  it('is the last one, if it is still open', () => {
    const atEnd = (openings: Pairs) => openAtEnd(judged(openings, []).openings)?.fromMs ?? null;
    expect(atEnd([])).toBe(null);
    expect(atEnd([[1_000, 2_000]])).toBe(null);
    expect(atEnd([[1_000, Number.POSITIVE_INFINITY]])).toBe(1_000);
  });
});

describe('an opening', () => {
  it('shorter than leaveOpenAfter is brief, alert or not; as long as that it is a leave-open', () => {
    expect(outcomeOf([[1_000, 1_099]], [])).toBe('brief');
    expect(outcomeOf([[1_000, 1_099]], [[1_050, 1_060]])).toBe('brief');
    expect(outcomeOf([[1_000, 1_100]], [])).toBe('missed');
  });

  it('is reported by a delivered alert that belongs to it', () => {
    expect(outcomeOf([[1_000, 1_100]], [[1_099, 5_000]])).toBe('reported');
  });

  it('is not reported by an alert decided just before it, just after it, or never delivered', () => {
    expect(outcomeOf([[1_000, 1_100]], [[999, 1_050]])).toBe('missed');
    expect(outcomeOf([[1_000, 1_100]], [[1_100, 1_150]])).toBe('missed');
    expect(outcomeOf([[1_000, 1_100]], [[1_050, null]])).toBe('missed');
  });

  it('is reported up to reportWithin after its start, and late from then on', () => {
    expect(outcomeOf([[1_000, 1_500]], [[1_200, 1_300]], 300)).toBe('reported');
    expect(outcomeOf([[1_000, 1_500]], [[1_200, 1_301]], 300)).toBe('late');
    expect(outcomeOf([[1_000, 1_500]], [[1_200, 9_999]])).toBe('reported');
  });

  it('is reported by its second alert when the first was lost', () => {
    const verdict = judged(
      [[1_000, 3_000]],
      [
        [1_200, null],
        [2_000, 2_050],
      ],
    );
    expect(verdict.openings.at(0)).toMatchObject({ outcome: 'reported', delayMs: 1_050 });
  });

  it('counts its delay to the first delivery of several, whatever their order', () => {
    const verdict = judged(
      [[1_000, 3_000]],
      [
        [1_200, 2_500],
        [2_000, 2_050],
      ],
    );
    expect(verdict.openings.at(0).delayMs).toBe(1_050);
  });

  it('still open at the end, undelivered, is undecided while there is time', () => {
    const endless = [[9_000, Number.POSITIVE_INFINITY]] as const;
    expect(outcomeOf(endless, [])).toBe('undecided');
    expect(outcomeOf(endless, [[9_500, null]])).toBe('undecided');
    expect(outcomeOf(endless, [], 1_000)).toBe('undecided');
    expect(outcomeOf(endless, [], 999)).toBe('missed');
  });

  it('still open at the end and delivered is reported or late like any other', () => {
    const endless = [[9_000, Number.POSITIVE_INFINITY]] as const;
    expect(outcomeOf(endless, [[9_500, 9_600]])).toBe('reported');
    expect(outcomeOf(endless, [[9_500, 9_600]], 599)).toBe('late');
  });

  it('that ends beyond the timeline is still open; one that ends with it is over', () => {
    const beyond = judged([[9_000, 10_001]], []).openings.at(0);
    expect(beyond).toMatchObject({ toMs: null, durationMs: 1_000, outcome: 'undecided' });
    const within = judged([[9_000, 10_000]], []).openings.at(0);
    expect(within).toMatchObject({ toMs: 10_000, durationMs: 1_000, outcome: 'missed' });
  });

  it('still open at the end is undecided, and a leave-open only from leaveOpenAfter on', () => {
    const short = judged([[9_901, Number.POSITIVE_INFINITY]], []);
    expect(short.openings.at(0)).toMatchObject({ outcome: 'undecided', durationMs: 99 });
    expect(short.summary).toMatchObject({ leaveOpens: 0, undecided: 1 });
    const long = judged([[9_900, Number.POSITIVE_INFINITY]], []);
    expect(long.openings.at(0).outcome).toBe('undecided');
    expect(long.summary).toMatchObject({ leaveOpens: 1, undecided: 1 });
  });

  it('too short at the end is undecided even if its alert came, and its latency does not count', () => {
    const { summary, openings } = judged([[9_901, 20_000]], [[9_950, 9_960]], 10);
    expect(openings.at(0)).toMatchObject({ outcome: 'undecided', delayMs: 59 });
    expect(summary).toMatchObject({ leaveOpens: 0, undecided: 1, late: 0, worstDelayMs: null });
  });

  it('that ends with the timeline before leaveOpenAfter is brief', () => {
    const { summary, openings } = judged([[9_901, 10_000]], [[9_950, 9_960]]);
    expect(openings.at(0).outcome).toBe('brief');
    expect(summary).toMatchObject({ undecided: 0, falseAlarms: 1, earlyAlerts: 0 });
  });
});

describe('an alert', () => {
  it('decided leaveOpenAfter after its opening began is true, sooner early', () => {
    expect(kindsOf([[1_000, 2_000]], [[1_100, 1_110]])).toEqual(['true']);
    expect(kindsOf([[1_000, 2_000]], [[1_099, 1_500]])).toEqual(['early']);
  });

  it('need not be delivered to be of a kind', () => {
    expect(kindsOf([[1_000, 2_000]], [[1_100, null]])).toEqual(['true']);
  });

  it('of a brief opening is false, delivered after it or not', () => {
    expect(kindsOf([[1_000, 1_099]], [[1_050, 1_200]])).toEqual(['false']);
    expect(kindsOf([[1_000, 1_100]], [[1_050, 1_200]])).toEqual(['early']);
  });

  it('of an opening that is still open at the end is early, never false', () => {
    const endless = [[9_950, Number.POSITIVE_INFINITY]] as const;
    expect(kindsOf(endless, [[9_960, 9_970]])).toEqual(['early']);
    expect(kindsOf([[9_950, 10_001]], [[9_960, null]])).toEqual(['early']);
    expect(judged(endless, [[9_960, 9_970]]).summary).toMatchObject({
      falseAlarms: 0,
      earlyAlerts: 1,
    });
  });

  it('with the door shut is false each time, and belongs to no opening', () => {
    const verdict = judged(
      [[1_000, 2_000]],
      [
        [999, 1_005],
        [2_000, 2_010],
        [2_500, 2_510],
      ],
    );
    expect(verdict.alerts.map(({ kind, opening }) => [kind, opening])).toEqual([
      ['false', null],
      ['false', null],
      ['false', null],
    ]);
  });

  it('that is not the first of its opening is a repeat, of a brief one too', () => {
    expect(
      kindsOf(
        [[1_000, 2_000]],
        [
          [1_050, 1_060],
          [1_150, 1_160],
          [1_999, null],
        ],
      ),
    ).toEqual(['early', 'repeat', 'repeat']);
    expect(
      kindsOf(
        [[1_000, 1_099]],
        [
          [1_010, 1_020],
          [1_030, 1_040],
        ],
      ),
    ).toEqual(['false', 'repeat']);
  });

  it('of the next opening is a first one again, and names its opening', () => {
    const verdict = judged(
      [
        [1_000, 2_000],
        [3_000, 4_000],
      ],
      [
        [1_500, 1_510],
        [2_500, 2_510],
        [3_500, 3_510],
      ],
    );
    expect(verdict.alerts.map(({ kind, opening }) => [kind, opening])).toEqual([
      ['true', 0],
      ['false', null],
      ['true', 1],
    ]);
  });
});

describe('the summary', () => {
  it('counts each kind once and names the worst delay', () => {
    const { summary } = judged(
      [
        [100, 150],
        [1_000, 2_000],
        [3_000, 4_000],
        [5_000, 6_000],
        [9_800, Number.POSITIVE_INFINITY],
      ],
      [
        [120, 130],
        [1_050, 1_200],
        [1_800, 1_900],
        [3_500, 3_600],
      ],
      500,
    );
    expect(summary).toEqual({
      openings: 5,
      leaveOpens: 4,
      reported: 1,
      late: 1,
      missed: 1,
      undecided: 1,
      unpowered: 0,
      unknown: 0,
      alerts: 4,
      falseAlarms: 1,
      earlyAlerts: 1,
      repeats: 1,
      checks: 7,
      worstDelayMs: 600,
    });
  });

  it('without a delivery has no worst delay, and without openings nothing to say', () => {
    expect(judged([[1_000, 2_000]], []).summary.worstDelayMs).toBeNull();
    expect(judged([], []).summary).toMatchObject({ openings: 0, leaveOpens: 0, missed: 0 });
  });

  it('names the worst delay, wherever in the timeline it is', () => {
    const openings = [
      [1_000, 2_000],
      [3_000, 4_000],
    ] as const;
    const early = judged(openings, [
      [1_500, 1_900],
      [3_200, 3_300],
    ]);
    expect(early.summary.worstDelayMs).toBe(900);
  });

  it('leaves the delays of brief openings out of the worst', () => {
    expect(judged([[1_000, 1_050]], [[1_010, 9_000]]).summary.worstDelayMs).toBeNull();
  });

  it('adds up for every run, and agrees with a naive judge', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...scales).chain((scale) => experiments(scale, 10, someLogics)),
        fc.nat(20_000),
        fc.option(fc.nat(60_000)),
        (drawn, leaveOpenMs, reportWithinMs) => {
          for (const experiment of drawn) {
            const trace = simulate(experiment, { record: 'none' });
            const wish = asked({ leaveOpenAfterMs: leaveOpenMs, reportWithinMs });
            const { summary, alerts, openings } = judge(experiment.world.openings, trace, wish);
            const naive = judgeNaively(experiment.world.openings, trace, wish);
            const outcomes = range(0, openings.count).map((index) => openings.at(index).outcome);
            expect(outcomes).toEqual(naive.outcomes);
            expect(alerts.map(({ kind }) => kind)).toEqual(naive.kinds);
            expect(summary.leaveOpens).toBe(naive.leaveOpens);
            for (const name of ['reported', 'late', 'missed', 'undecided'] as const) {
              expect(summary[name]).toBe(outcomes.filter((outcome) => outcome === name).length);
            }
            const trueOnes = alerts.filter(({ kind }) => kind === 'true').length;
            const others = summary.falseAlarms + summary.earlyAlerts + summary.repeats;
            expect(trueOnes + others).toBe(summary.alerts);
          }
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe('judged openings', () => {
  it('are read by an index that they have', () => {
    const { openings } = judged([[1_000, 2_000]], []);
    expect(openings.leaveOpens).toEqual([0]);
    expect(() => openings.at(1)).toThrow(InvariantError);
    expect(() => openings.at(-1)).toThrow(InvariantError);
  });
});
