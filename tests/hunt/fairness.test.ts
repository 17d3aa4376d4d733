// What counts as a failure of a watch, and what faults excuse.

import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { breachOf, type HuntQuestion, type Trial } from '../../src/hunt/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { holeyWatch, huntQuestion } from '../support/watch-question.js';

const minute = 60_000;
const question = huntQuestion(holeyWatch);
const hour = 60 * minute;

function trial(changes: Partial<Trial>): Trial {
  return {
    lengthMs: 2 * hour,
    powerOnAtMs: 0,
    openings: [[minute, 4 * minute]],
    networkDown: [],
    powerLost: [],
    batteryLow: [],
    resets: [],
    contactFaults: [],
    timing: deviceTiming({}, question.timing),
    ...changes,
  };
}

function isBreach(changes: Partial<Trial>, of = question): boolean {
  return breachOf(of, trial(changes)) !== null;
}

describe('a leave-open that is missed', () => {
  it('counts as a failure of the watch when nothing kept it from seeing it', () => {
    expect(isBreach({})).toBe(true);
  });

  it('is not when the network is down to the end of the timeline', () => {
    expect(isBreach({ networkDown: [[0, Number.POSITIVE_INFINITY]] })).toBe(false);
    expect(isBreach({ networkDown: [[3 * minute, 2 * hour]] })).toBe(false);
    // Back in time for an alert: nothing is excused.
    expect(isBreach({ networkDown: [[0, hour]] })).toBe(true);
  });

  it('is not when there is no power while it is open', () => {
    expect(isBreach({ powerLost: [[0, 5 * minute]] })).toBe(false);
    expect(isBreach({ powerLost: [[minute, 4 * minute]] })).toBe(false);
  });

  it('is when the power comes back for as long as a leave-open takes', () => {
    const openings: Trial['openings'] = [[minute, 5 * minute]];
    expect(isBreach({ openings, powerLost: [[minute, 90_000]] })).toBe(false);
    // From 2 min on it boots, checks at 2 min 0.4 s and again 3 min 0.4 s later, when the door is shut.
    expect(isBreach({ openings, powerLost: [[minute, 2 * minute]] })).toBe(true);
    expect(isBreach({ openings, powerLost: [[minute, 2 * minute + 1]] })).toBe(false);
  });

  it('is never reported if it was shut in time, and else not reported by the end', () => {
    const dated = huntQuestion(
      'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
    );
    const never = { ...dated.watch, escalationThreshold: { open: 9, outOf: 9 } };
    const deaf = { ...dated, program: compileWatch(never) };
    const what = (toMs: number) =>
      breachOf(deaf, trial({ lengthMs: 20 * minute, openings: [[minute, toMs]] }))?.what;
    expect(what(10 * minute)).toBe('open for 9 min and never reported');
    expect(what(Number.POSITIVE_INFINITY)).toBe(
      'open for 19 min and not reported by the end of the timeline',
    );
  });

  it('is not when the timeline ends before an alert could be sent', () => {
    expect(isBreach({ lengthMs: 4 * minute })).toBe(false);
    expect(isBreach({ lengthMs: 7 * minute })).toBe(false);
    expect(isBreach({ lengthMs: 8 * minute })).toBe(true);
  });

  it('is not when the contact read shut for more of it than it could do without', () => {
    const contactFaults: Trial['contactFaults'] = [
      {
        fromMs: trueMs(2 * minute),
        toMs: trueMs(3 * minute),
        reads: { kind: 'stuck', at: 'shut' },
      },
    ];
    expect(isBreach({ contactFaults })).toBe(false);
    expect(isBreach({ contactFaults, openings: [[minute, 5 * minute]] })).toBe(true);
    // What is misread after three minutes of true readings takes nothing of them away.
    const afterwards: Trial['contactFaults'] = [
      {
        fromMs: trueMs(4 * minute),
        toMs: trueMs(90 * minute),
        reads: { kind: 'stuck', at: 'shut' },
      },
    ];
    const short = { lengthMs: 2 * hour, openings: [[minute, 4 * minute + 1_000]] } as const;
    expect(isBreach({ ...short, contactFaults: afterwards })).toBe(true);
    const open: Trial['contactFaults'] = [
      { fromMs: trueMs(0), toMs: trueMs(1), reads: { kind: 'stuck', at: 'open' } },
    ];
    expect(isBreach({ contactFaults: open })).toBe(true);
  });
});

describe('a report that is late', () => {
  const timed = huntQuestion(
    'watch: { checkInterval: 3m, retry: { interval: 1m, attempts: 5 } }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
    { properties: ['in-time'] },
  );
  const openings: Trial['openings'] = [[minute, hour]];

  it('does not count as a failure of the watch for the time in which the network was down', () => {
    // Decided at 6 min 1.2 s; retried each minute until the network is back: 4 min late, for 4 min of outage.
    expect(isBreach({ openings, networkDown: [[6 * minute, 10 * minute]] }, timed)).toBe(false);
    expect(isBreach({ openings, networkDown: [[minute, 20 * minute]] }, timed)).toBe(false);
    // Fallen back to a try every 3 min, it lets the network be up for longer than it had left.
    expect(isBreach({ openings, networkDown: [[6 * minute, 18 * minute]] }, timed)).toBe(true);
  });

  it('does not count for the time in which the contact read shut, while the network was up', () => {
    const shut = (fromMs: number, toMs: number): Trial['contactFaults'] => [
      { fromMs: trueMs(fromMs), toMs: trueMs(toMs), reads: { kind: 'stuck', at: 'shut' } },
    ];
    const misread = (fromMs: number, toMs: number): boolean =>
      isBreach({ openings, contactFaults: shut(fromMs, toMs) }, timed);
    expect(misread(2 * minute, 5 * minute)).toBe(false);
    // What came before it opened, or after the report, excuses nothing.
    const slow = huntQuestion(
      'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
      { properties: ['in-time'] },
    );
    const late = (fromMs: number, toMs: number): boolean =>
      isBreach({ openings, contactFaults: shut(fromMs, toMs) }, slow);
    expect(late(0, minute)).toBe(true);
    expect(late(30 * minute, 40 * minute)).toBe(true);
    expect(late(7 * minute, 10 * minute)).toBe(false);
    // Only what lies in the time up to the report counts: a second of it is too little.
    expect(late(9 * minute, 9 * minute + 1_000)).toBe(true);
    expect(late(59_000, minute + 1_000)).toBe(true);
  });

  it('counts as its failure when the watch alone took too long', () => {
    const slow = huntQuestion(
      'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
      { properties: ['in-time'] },
    );
    expect(isBreach({ openings }, slow)).toBe(true);
  });
});

describe('an alert for a brief opening', () => {
  const quiet = huntQuestion(
    'watch: { checkInterval: 3m, escalationThreshold: 2 }\njudge: { leaveOpenAfter: 10m, quietUpTo: 2m }\n',
    { properties: ['quiet'] },
  );
  /** It reports what is open at one check. */
  const hasty = compileWatch({ ...quiet.watch, escalationThreshold: { open: 1, outOf: 1 } });
  const device: HuntQuestion = {
    ...quiet,
    run: (experiment) => ({
      trace: simulate({ ...experiment, program: hasty }, { record: 'none' }),
      stopped: null,
    }),
  };
  /** Over the check at 2 h 3 min 16.8 s. */
  const checkMs = 400 + 41 * 180_400;
  const long = { lengthMs: 3 * hour };
  const brief = (forMs: number): Trial['openings'] => [[checkMs - 1_000, checkMs - 1_000 + forMs]];

  it('counts as a failure up to the length that must be quiet, and no further', () => {
    expect(isBreach({ ...long, openings: brief(2 * minute) }, quiet)).toBe(false);
    expect(isBreach({ ...long, openings: brief(2 * minute) }, device)).toBe(true);
    expect(isBreach({ ...long, openings: brief(2 * minute + 1) }, device)).toBe(false);
  });

  it('is given the tolerance of a device, as are leave-opens and deadlines', () => {
    const tolerant = { ...device, toleranceMs: 1_000 };
    expect(isBreach({ ...long, openings: brief(2 * minute) }, tolerant)).toBe(false);
    expect(isBreach({ ...long, openings: brief(2 * minute - 1_000) }, tolerant)).toBe(true);
    const missing = { ...question, toleranceMs: 1_000 };
    expect(isBreach({ openings: [[minute, 4 * minute + 999]] }, missing)).toBe(false);
    expect(isBreach({ openings: [[minute, 4 * minute + 1_000]] }, missing)).toBe(true);
    // Decided 9 min 1.2 s after it opened, and sent in a few seconds.
    const timed = (toleranceMs: number): HuntQuestion => ({
      ...huntQuestion(
        'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 3m, reportWithin: 9m }\n',
        { properties: ['in-time'] },
      ),
      toleranceMs,
    });
    const hourLong: Trial['openings'] = [[minute, hour]];
    expect(isBreach({ openings: hourLong }, timed(0))).toBe(true);
    expect(isBreach({ openings: hourLong }, timed(6_000))).toBe(false);
  });

  it('does not where it opened again within an hour, or a boot made the device look once more', () => {
    const before = (agoMs: number): Trial['openings'] => {
      const shutMs = checkMs - 1_000 - agoMs;
      return [[shutMs - 1_000, shutMs], ...brief(minute)];
    };
    expect(isBreach({ ...long, openings: before(hour - 1) }, device)).toBe(false);
    expect(isBreach({ ...long, openings: before(hour) }, device)).toBe(true);
    const reset = (atMs: number): boolean =>
      isBreach(
        { ...long, openings: brief(minute), resets: [{ kind: 'button', clears: false, atMs }] },
        device,
      );
    expect(reset(checkMs - 900)).toBe(false);
    expect(reset(checkMs + 30 * minute)).toBe(true);
  });

  it('does not where the contact read open between the opening before and the alert', () => {
    const openings: Trial['openings'] = [[minute, minute + 1_000], ...brief(minute)];
    const stuck = (fromMs: number, toMs: number): boolean =>
      isBreach(
        {
          ...{ ...long, openings },
          contactFaults: [
            { fromMs: trueMs(fromMs), toMs: trueMs(toMs), reads: { kind: 'stuck', at: 'open' } },
          ],
        },
        device,
      );
    expect(stuck(2 * minute, 2 * minute + 1_000)).toBe(false);
    expect(stuck(30_000, 31_000)).toBe(true);
    expect(stuck(checkMs + minute, checkMs + 2 * minute)).toBe(true);
  });
});
