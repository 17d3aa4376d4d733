// What the search finds and what the rules of the checker prove are one: random watches, devices and environments have
// certificates, and those are accepted. Search and checker share no code, so that each is tried by the other.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { BoundsQuestion } from '../../src/bounds/index.js';
import { clockErrorsOf, type Environment, type TimingRanges } from '../../src/model/index.js';
import { questionOf } from '../bounds/question.js';
import { logicSettings, rarelyWarned, type Scale, watchSettings } from '../support/arbitraries.js';
import { rangesWith } from '../support/experiments.js';
import { assertUntil } from '../support/until-seen.js';
import { certificateOf, certified, verdictOn } from './certificates.js';

const scale: Scale = {
  leastMs: 5,
  mostMs: 20,
  mostBootMs: 3,
  mostConnectMs: 5,
  lengthMs: 300,
  errorPpm: 150_000,
};

function range(mostMs: number): fc.Arbitrary<readonly [number, number]> {
  return fc.tuple(fc.nat(mostMs), fc.nat(3)).map(([ms, more]) => [ms, more > 1 ? ms + more : ms]);
}

const timings: fc.Arbitrary<TimingRanges> = fc
  .record({
    bootMs: range(scale.mostBootMs),
    connectMs: range(scale.mostConnectMs),
    // Shorter than an outage, as long as one, and longer.
    joinWaitMs: fc.constantFrom(0, 0, 7, 39, 40, 60),
    errorPpm: fc.constantFrom(0, scale.errorPpm, [-scale.errorPpm, scale.errorPpm] as const),
  })
  .map(rangesWith);

const environments: fc.Arbitrary<Partial<Environment>> = fc.record({
  longestOutageMs: fc.constantFrom(0, 0, 40),
  outages: fc.constantFrom(1, 1, 2, 3),
  outagesApartMs: fc.constantFrom(0, 0, 9, 30),
  powerLosses: fc.constantFrom(0, 0, 1),
  longestPowerLossMs: fc.integer({ min: 1, max: 8 }),
  resets: fc.constantFrom(0, 0, 1),
});

const watches = logicSettings.chain((logic) => watchSettings(logic, scale).map(rarelyWarned));

/** Enough for most; the others would take seconds. */
const mostStates = 1000;

/** What a certificate may refuse to cover. */
const notCovered = [
  `more than ${String(mostStates)} states`,
  'an opening that is never reported, unless a device that holds is the reason',
  'a watch where the device may hold for ever',
  'a watch where some opening has no alert',
].map((what) => `a certificate cannot cover ${what}`);

describe('a certificate', () => {
  it('is accepted, for whatever watch and environment it was written', () => {
    let accepted = 0;
    const property = fc.property(watches, timings, environments, (watch, timing, environment) => {
      const question = questionOf(watch, { timing, environment });
      const result = certified(question, mostStates);
      if (result.kind === 'not covered') {
        expect(notCovered).toContain(result.why);
        return;
      }
      accepted += 1;
      // Where sleeps err differently beside heartbeats, the readings of a zone may fit no single run.
      const { least, most } = clockErrorsOf(timing.clockError);
      if (least === most) expect(result.notReached).toEqual([]);
      const verdict = verdictOn(JSON.parse(result.text), question);
      expect(verdict).toMatchObject({ kind: 'verified' });
    });
    assertUntil(property, { numRuns: 15 }, () => accepted > 2);
  });

  const minutes = (count: number) => deviceMs(count * 60_000);

  it.each<readonly [string, () => BoundsQuestion]>([
    [
      'a contact that bounces',
      () =>
        questionOf({ alertCooldownMs: deviceMs(0) }, { environment: { longestChatterMs: 90_000 } }),
    ],
    [
      'days of heartbeats',
      () =>
        questionOf({
          checkIntervalMs: minutes(60),
          heartbeats: true,
          heartbeatIntervalMs: minutes(300),
        }),
    ],
    [
      'a cooldown that a shut door does not end',
      () => questionOf({ alertCooldownMs: minutes(12), cooldownEndsWhenShut: false }),
    ],
    [
      'a memory of four checks',
      () =>
        questionOf({
          escalationThreshold: { open: 2, outOf: 4 },
          recheckIntervalMs: minutes(1),
        }),
    ],
    [
      'alerts that are dropped, and a device that holds',
      () =>
        questionOf(
          { afterAlert: 'hold-until-reset', unsentWhenShut: 'drop' },
          { environment: { longestOutageMs: 600_000 } },
        ),
    ],
    [
      'three outages',
      () => questionOf({}, { environment: { longestOutageMs: 90_000, outages: 3 } }),
    ],
    [
      'outages at a distance',
      () =>
        questionOf(
          { alertCooldownMs: minutes(9) },
          { environment: { longestOutageMs: 90_000, outages: 2, outagesApartMs: 600_000 } },
        ),
    ],
    [
      'a fast clock, a power loss and a reset',
      () =>
        questionOf(
          {},
          {
            timing: rangesWith({ errorPpm: -45_000 }),
            environment: { powerLosses: 1, resets: 1 },
          },
        ),
    ],
    // Unseen in a heartbeat, the door may open, and its shutting again wakes the device: an alert as early as 13 ms.
    [
      'a door that moves during heartbeats',
      () =>
        questionOf(
          {
            checkIntervalMs: deviceMs(5),
            recheckIntervalMs: deviceMs(5),
            heartbeatIntervalMs: deviceMs(5),
            heartbeats: true,
            escalationThreshold: { open: 3, outOf: 4 },
            clearThreshold: 3,
            alertCooldownMs: deviceMs(0),
            wakeOn: 'any-change',
          },
          { timing: rangesWith({ bootMs: 1, connectMs: 1 }) },
        ),
    ],
  ])('is accepted with %s', (_, of) => {
    const question = of();
    expect(verdictOn(certificateOf(question), question).kind).toBe('verified');
  });
});
