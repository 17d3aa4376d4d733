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

  it('counts as its failure when the watch alone took too long', () => {
    const slow = huntQuestion(
      'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 3m, reportWithin: 7m }\n',
      { properties: ['in-time'] },
    );
    expect(isBreach({ openings }, slow)).toBe(true);
  });
});
