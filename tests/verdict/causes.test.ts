// The cause of a finding in a few words, by which findings of many runs are counted together.
import { describe, expect, it } from 'vitest';
import { causeOf } from '../../src/verdict/explain/causes.js';
import type { Circumstance, Clause } from '../../src/verdict/explain/clause.js';

const tried = { failed: 0, cutByReset: 0, cutByPower: 0, cutByCharge: 0, cutByEnd: 0 };
const fates = { forgotten: 1, emptied: 0, cleared: 0, dropped: 0, unsent: 0 };

function decided(attempts: Partial<typeof tried>, afterMs = 1, sentForMs = 2): Clause {
  return { kind: 'decided', afterMs, sentForMs, attempts: { ...tried, ...attempts } };
}

function meanwhile(...what: readonly Circumstance[]): Clause {
  return { kind: 'meanwhile', until: 'shut', what };
}

function opens(checks: number, brief: readonly boolean[]): Clause {
  return { kind: 'openChecks', checks, openings: brief.map((one) => ({ ms: 5, brief: one })) };
}

const flat = { beforeMs: 1, afterMs: null, lastedMs: 1, offMs: 1, all: true };

describe('the cause of a finding', () => {
  it.each<readonly [string, Clause]>([
    ['no check while it was open', { kind: 'between', afterMs: 1, beforeMs: 1, offMs: 0 }],
    [
      'no check while it was open, and no power after it',
      { kind: 'between', afterMs: 1, beforeMs: 1, offMs: 1 },
    ],
    ['no power while it was open', { kind: 'offThroughout' }],
    ['the charge was used up', { kind: 'unpowered', ...flat }],
    ['the device was waiting for a reset', { kind: 'heldThroughout', deliveredBeforeMs: 1 }],
    [
      'the device was waiting for a reset',
      {
        kind: 'heldFromDelivery',
        decidedBeforeMs: 1,
        deliveredAfterMs: 1,
        heldMs: 1,
        toTheEnd: true,
        named: false,
      },
    ],
    ['the contact read shut at every check', { kind: 'allShut', checks: 2 }],
    ['no alert was decided', { kind: 'quiet', checks: 1, deliveredBeforeMs: null }],
    ['the cooldown of an earlier alert', { kind: 'quiet', checks: 1, deliveredBeforeMs: 1 }],
    [
      'an earlier alert was still waiting to be delivered',
      { kind: 'unsent', checks: 1, decidedBeforeMs: 1 },
    ],
    ['shut before the check that would have alerted', { kind: 'shutTooSoon', byMs: 1, offMs: 0 }],
    [
      'shut before the check that would have alerted, with no power in between',
      { kind: 'shutTooSoon', byMs: 2, offMs: 1 },
    ],
    ['no power at the end of it', { kind: 'offUntilShut', ms: 1 }],
    ['the timeline ended before an alert was decided', { kind: 'noneInTime', offMs: 0 }],
    ['the timeline ended before an alert was decided', { kind: 'endedFirst' }],
    ['the contact read shut before the door shut', { kind: 'readShutBefore' }],
    ['an alert was decided but not delivered', { kind: 'undelivered', fates, attempts: tried }],
    ['attempts to send failed', decided({ failed: 1, cutByReset: 1 })],
    ['an attempt to send was cut off', decided({ cutByReset: 1 })],
    ['an attempt to send was cut off', decided({ cutByPower: 1 })],
    ['an attempt to send was cut off', decided({ cutByCharge: 1 })],
    ['decided late', decided({}, 2, 2)],
    ['sent late', decided({}, 1, 2)],
    ['an earlier alert was not delivered', { kind: 'earlier', fates }],
    ['the contact read open while the door was shut', { kind: 'ghosts', checks: 1, all: true }],
    ['decided while the door was shut', { kind: 'decidedShut' }],
    ['decided at a check that read shut', { kind: 'noOpenCheck' }],
    ['no power for a part of it', meanwhile({ kind: 'off', ms: 1 })],
    ['the device was waiting for a reset', meanwhile({ kind: 'held', ms: 1 })],
    ['the device was sending', meanwhile({ kind: 'sending', ms: 1 })],
    ['a reset cut off a wake', meanwhile({ kind: 'wakesCut', wakes: 1 })],
    ['the contact read shut at a check', meanwhile({ kind: 'readShut', checks: 1, of: 2 })],
    ['a power loss lost counted checks', meanwhile({ kind: 'countLost', times: 1, checks: 1 })],
    [
      'the end of a charge lost counted checks',
      meanwhile({ kind: 'countEmptied', times: 1, checks: 1 }),
    ],
    ['a reset cleared counted checks', meanwhile({ kind: 'countCleared', times: 1, checks: 1 })],
    ['two checks in one brief opening', opens(2, [true])],
    ['one check in two brief openings', opens(1, [true, true])],
    ['12 checks in one brief opening', opens(12, [true])],
    ['7 checks in two openings', opens(7, [true, false])],
    ['the logic decided no alert', { kind: 'readOpen', checks: 1, aside: false }],
    ['', { kind: 'readOpen', checks: 1, aside: true }],
    [
      'the logic decided it in a brief opening',
      { kind: 'ownRule', opening: { ms: 1, brief: true } },
    ],
    ['the logic decided it in an opening', { kind: 'ownRule', opening: { ms: 1, brief: false } }],
    ['the contact read open while the door was shut', { kind: 'ownRule', opening: null }],
    ['', { kind: 'opened', afterMs: 1 }],
    ['', { kind: 'counted', most: 1, enough: 2 }],
    ['', { kind: 'late', byMs: 1 }],
  ])('%s', (cause, clause) => {
    expect(causeOf([clause])).toBe(cause);
  });

  it('is of several clauses, each cause once', () => {
    const late: Clause = { kind: 'late', byMs: 1 };
    const quiet = { kind: 'quiet', checks: 1, deliveredBeforeMs: 1 } as const;
    const both: Clause = { kind: 'meanwhile', until: 'decision', what: [quiet] };
    expect(causeOf([late, decided({ failed: 1 }), both, quiet])).toBe(
      'attempts to send failed; the cooldown of an earlier alert',
    );
    const unsent = { kind: 'unsent', checks: 1, decidedBeforeMs: 1 } as const;
    expect(causeOf([{ kind: 'meanwhile', until: 'decision', what: [unsent] }])).toBe(
      'an earlier alert was still waiting to be delivered',
    );
  });
});
