// The difference between two watches on one timeline, in words.
import { describe, expect, it } from 'vitest';
import { alikeProperty, breachOf, type Trial } from '../../src/hunt/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { huntQuestion } from '../support/watch-question.js';

const minuteMs = 60_000;
const text = (interval: string, threshold: number): string =>
  `watch: { checkInterval: ${interval}, escalationThreshold: ${String(threshold)} }\njudge: { leaveOpenAfter: 1m }\n`;

/** What differs for a door that is open from the tenth minute on, for a quarter of an hour. */
function differenceOf(other: string): string | undefined {
  const question = huntQuestion(text('2m', 2));
  const property = alikeProperty('alike', huntQuestion(other).program);
  const trial: Trial = {
    ...{ lengthMs: 90 * minuteMs, powerOnAtMs: 0, networkDown: [], powerLost: [] },
    ...{ batteryLow: [], resets: [], contactFaults: [] },
    openings: [[10 * minuteMs, 25 * minuteMs]],
    timing: deviceTiming({}, question.timing),
  };
  return breachOf({ ...question, properties: [property] }, trial)?.what;
}

describe('the difference between two watches', () => {
  it('is none where both do the same', () => {
    expect(differenceOf(text('2m', 2))).toBeUndefined();
  });

  it('is what they report', () => {
    expect(differenceOf(text('2m', 10))).toBe(
      'missed 1 instead of 0, reported 0 instead of 1, alerts 0 instead of 1',
    );
  });

  it('is their latency where they report the same: rounded, or to the millisecond where that would look alike', () => {
    expect(differenceOf(text('3m', 2))).toMatch(
      /^worst detection latency \d+ min( \d+ s)? instead of \d+ min( \d+ s)?$/u,
    );
    expect(differenceOf(text('120003ms', 2))).toMatch(
      /^worst detection latency \d+ min [\d.]+\d{3} s instead of \d+ min [\d.]+ s$/u,
    );
  });
});
