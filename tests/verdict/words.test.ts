// Words for what few runs come to: several alerts of one opening, a single wake cut off, just as many openings as are listed.
import { describe, expect, it } from 'vitest';
import type { Clause } from '../../src/verdict/explain/clause.js';
import { sentenceOf } from '../../src/verdict/explain/words.js';

const attempts = { failed: 2, cutByReset: 0, cutByPower: 0, cutByCharge: 0, cutByEnd: 0 };

function openings(count: number): Clause {
  const each = Array.from({ length: count }, () => ({ ms: 500, brief: true }));
  return { kind: 'openChecks', checks: count, openings: each };
}

describe('the sentence', () => {
  it.each<readonly [string, Clause, string]>([
    [
      'three alerts, each with another fate',
      {
        kind: 'undelivered',
        fates: { forgotten: 1, emptied: 0, cleared: 0, dropped: 1, unsent: 1 },
        attempts,
      },
      '3 alerts were decided, but none was delivered: 1 lost in a power loss, 1 dropped at a check that read shut, 1 still unsent at the end of the timeline (2 attempts failed while the network was down)',
    ],
    [
      'an alert that was lost, and one that is unsent',
      {
        kind: 'undelivered',
        fates: { forgotten: 1, emptied: 0, cleared: 0, dropped: 0, unsent: 1 },
        attempts,
      },
      '2 alerts were decided, but none was delivered: 1 lost in a power loss, 1 still unsent at the end of the timeline (2 attempts failed while the network was down)',
    ],
    [
      'one alert that was lost with the charge',
      {
        kind: 'undelivered',
        fates: { forgotten: 0, emptied: 1, cleared: 0, dropped: 0, unsent: 0 },
        attempts,
      },
      'an alert was decided, but the charge ended before it was delivered (2 attempts failed while the network was down)',
    ],
    [
      'two alerts that were lost with the charge, and attempts that it cut off',
      {
        kind: 'undelivered',
        fates: { forgotten: 0, emptied: 2, cleared: 0, dropped: 0, unsent: 0 },
        attempts: { ...attempts, cutByCharge: 2 },
      },
      '2 alerts were decided, but none was delivered: 2 lost as the charge ended (2 attempts failed while the network was down, 2 attempts cut off as the charge ended)',
    ],
    [
      'a charge that was used up before the door opened',
      {
        kind: 'unpowered',
        beforeMs: 60_000,
        afterMs: null,
        lastedMs: 3_600_000,
        offMs: 5_000,
        all: true,
      },
      'the charge had lasted 1 h and was used up 1 min before it opened, so the device was off all the time it was open',
    ],
    [
      'a charge that was used up after the door opened',
      {
        kind: 'unpowered',
        beforeMs: null,
        afterMs: 2_000,
        lastedMs: 3_600_000,
        offMs: 5_000,
        all: false,
      },
      'the charge had lasted 1 h and was used up 2 s after it opened, so the device was off for 5 s of it',
    ],
    [
      'a device that made no check',
      { kind: 'between', afterMs: null, beforeMs: null, offMs: 0 },
      'the device made no check in this timeline',
    ],
    [
      'a device whose first check came too late',
      { kind: 'between', afterMs: null, beforeMs: 2_000, offMs: 0 },
      'shut 2 s before the first check',
    ],
    [
      'one alert that a reset cleared',
      {
        kind: 'undelivered',
        fates: { forgotten: 0, emptied: 0, cleared: 1, dropped: 0, unsent: 0 },
        attempts,
      },
      'an alert was decided, but a reset cleared it from memory before it was delivered (2 attempts failed while the network was down)',
    ],
    [
      'two alerts before the one that was delivered',
      { kind: 'earlier', fates: { forgotten: 1, emptied: 0, cleared: 0, dropped: 1, unsent: 0 } },
      '2 earlier alerts of this opening were not delivered (1 lost in a power loss, 1 dropped at a check that read shut)',
    ],
    [
      'one alert before the one that was delivered',
      { kind: 'earlier', fates: { forgotten: 0, emptied: 0, cleared: 0, dropped: 1, unsent: 0 } },
      '1 earlier alert of this opening was not delivered (1 dropped at a check that read shut)',
    ],
    [
      'one wake that was cut off',
      { kind: 'meanwhile', until: 'decision', what: [{ kind: 'wakesCut', wakes: 1 }] },
      'before the decision: a reset cut off a wake before its check',
    ],
    [
      'as many openings as are listed',
      openings(5),
      '5 checks read open during 5 separate openings (500 ms, 500 ms, 500 ms, 500 ms, 500 ms)',
    ],
    [
      'more openings than are listed',
      openings(6),
      '6 checks read open during 6 separate openings (500 ms, 500 ms, 500 ms, 500 ms, 500 ms, …)',
    ],
  ])('on %s', (_, clause, sentence) => {
    expect(sentenceOf([clause])).toBe(sentence);
  });
});
