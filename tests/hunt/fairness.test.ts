// What counts as a failure of a watch, and what faults excuse.

import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { breachOf, type Trial } from '../../src/hunt/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { holeyWatch, huntQuestion } from '../support/watch-question.js';

const minute = 60_000;
const question = huntQuestion(holeyWatch);
const hour = 60 * minute;

function trial(changes: Partial<Trial>): Trial {
  return {
    lengthMs: 2 * hour,
    door: [[minute, 4 * minute]],
    outages: [],
    powerCuts: [],
    resetsMs: [],
    misreads: [],
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
    expect(isBreach({ outages: [[0, Number.POSITIVE_INFINITY]] })).toBe(false);
    expect(isBreach({ outages: [[3 * minute, 2 * hour]] })).toBe(false);
    // Back in time for an alert: nothing is excused.
    expect(isBreach({ outages: [[0, hour]] })).toBe(true);
  });

  it('is not when there is no power while it is open', () => {
    expect(isBreach({ powerCuts: [[0, 5 * minute]] })).toBe(false);
    expect(isBreach({ powerCuts: [[minute, 4 * minute]] })).toBe(false);
  });

  it('is when the power comes back for as long as a leave-open takes', () => {
    const door: Trial['door'] = [[minute, 5 * minute]];
    expect(isBreach({ door, powerCuts: [[minute, 90_000]] })).toBe(false);
    // From 2 min on it boots, checks at 2 min 0.4 s and again 3 min 0.4 s later, when the door is shut.
    expect(isBreach({ door, powerCuts: [[minute, 2 * minute]] })).toBe(true);
    expect(isBreach({ door, powerCuts: [[minute, 2 * minute + 1]] })).toBe(false);
  });

  it('is not when the timeline ends before an alert could be sent', () => {
    expect(isBreach({ lengthMs: 4 * minute })).toBe(false);
    expect(isBreach({ lengthMs: 7 * minute })).toBe(false);
    expect(isBreach({ lengthMs: 8 * minute })).toBe(true);
  });

  it('is not when the contact read shut for more of it than it could do without', () => {
    const misreads: Trial['misreads'] = [
      {
        fromMs: trueMs(2 * minute),
        toMs: trueMs(3 * minute),
        reads: { kind: 'stuck', at: 'shut' },
      },
    ];
    expect(isBreach({ misreads })).toBe(false);
    expect(isBreach({ misreads, door: [[minute, 5 * minute]] })).toBe(true);
    const open: Trial['misreads'] = [
      { fromMs: trueMs(0), toMs: trueMs(1), reads: { kind: 'stuck', at: 'open' } },
    ];
    expect(isBreach({ misreads: open })).toBe(true);
  });
});

describe('a report that is late', () => {
  const timed = huntQuestion(
    'watch: { checkInterval: 3m, retry: { interval: 1m, attempts: 5 } }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
    { properties: ['in-time'] },
  );
  const door: Trial['door'] = [[minute, hour]];

  it('does not count as a failure of the watch for the time in which the network was down', () => {
    // Decided at 6 min 1.2 s; retried each minute until the network is back: 4 min late, for 4 min of outage.
    expect(isBreach({ door, outages: [[6 * minute, 10 * minute]] }, timed)).toBe(false);
    expect(isBreach({ door, outages: [[minute, 20 * minute]] }, timed)).toBe(false);
    // Fallen back to a try every 3 min, it lets the network be up for longer than it had left.
    expect(isBreach({ door, outages: [[6 * minute, 18 * minute]] }, timed)).toBe(true);
  });

  it('counts as its failure when the watch alone took too long', () => {
    const slow = huntQuestion(
      'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
      { properties: ['in-time'] },
    );
    expect(isBreach({ door }, slow)).toBe(true);
  });
});
