// One number changed is enough: whatever it is, the certificate is refused, and the refusal names a place in it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { BoundsQuestion } from '../../src/bounds/index.js';
import { questionOf } from '../bounds/question.js';
import { once } from '../support/once.js';
import {
  certificateOf,
  leadsSomewhere,
  numbersIn,
  oneOfEachKind,
  type Place,
  verdictOn,
  verdictWith,
} from './certificates.js';

const seconds = (count: number) => deviceMs(count * 1_000);

const plain = once(() =>
  questionOf({ recheckIntervalMs: seconds(20), alertCooldownMs: deviceMs(0) }),
);
const holding = once(() =>
  questionOf({ afterAlert: 'hold-until-reset' }, { environment: { resets: 1 } }),
);
const woken = once(() =>
  questionOf({
    checkIntervalMs: seconds(600),
    recheckIntervalMs: seconds(60),
    wakeOn: 'opening',
    alertCooldownMs: deviceMs(0),
  }),
);
const cut = once(() =>
  questionOf(
    { alertCooldownMs: seconds(600) },
    {
      environment: {
        powerLosses: 1,
        longestPowerLossMs: 60_000,
        longestOutageMs: 300_000,
      },
    },
  ),
);
const remembering = once(() =>
  questionOf({
    escalationThreshold: { open: 3, outOf: 5 },
    clearThreshold: 2,
    recheckIntervalMs: seconds(30),
  }),
);

/** Where the certificate is refused: somewhere in the same part of it. */
function refusedAt(json: unknown, place: Place, by: number, question: BoundsQuestion): string {
  const verdict = verdictWith(json, { place, value: place.value + by }, question);
  const what = `${place.pointer}: ${String(place.value)} ${String(by)}`;
  if (verdict.kind === 'verified') throw new Error(`accepted: ${what}`);
  expect(leadsSomewhere(json, verdict.place), `${what} at ${verdict.place}`).toBe(true);
  const [, changed = ''] = place.pointer.split('/');
  expect(verdict.place, what).toMatch(new RegExp(`^/${changed}/`, 'u'));
  return verdict.place;
}

/** The part of a certificate that a checksum is of, as the start of a pointer. */
function sealedBy(place: string): string {
  return place.endsWith('/checksum') ? place.slice(0, -'checksum'.length) : 'nothing';
}

describe('a certificate with one number changed', () => {
  // The soak goes through every number of many certificates.
  it.each([
    ['of a plain watch', plain, 1],
    ['of a plain watch', plain, -1],
    ['of a watch that holds until its reset', holding, 1],
    ['of a watch that openings wake', woken, -1],
  ])('is refused, whichever kind of number of the certificate %s it is', (_, of, by) => {
    const question = of();
    const json = certificateOf(question);
    const places = oneOfEachKind(numbersIn(json), by > 0 ? 0 : 2);
    let named = 0;
    for (const place of places) {
      const at = refusedAt(json, place, by, question);
      if (at === place.pointer || place.pointer.startsWith(sealedBy(at))) named += 1;
    }
    expect(places.length).toBeGreaterThan(50);
    // The others contradict a state next to them, and either may be the wrong one.
    expect(named / places.length).toBeGreaterThan(0.7);
    expect(verdictOn(json, question).kind).toBe('verified');
  });

  it.each([
    ['with a power loss and an outage', cut],
    ['that remembers five checks', remembering],
  ])('is refused: any of many numbers of a watch %s, by any amount', (_, questionAsked) => {
    const question = questionAsked();
    const json = certificateOf(question);
    const places = numbersIn(json);
    const amounts = fc.oneof(
      fc.constantFrom(1, -1, 1_000, -1_000, 2 ** 31),
      fc.integer({ min: -50, max: 50 }).filter((by) => by !== 0),
    );
    fc.assert(
      fc.property(fc.constantFrom(...places), amounts, (place, by) => {
        refusedAt(json, place, by, question);
      }),
      { numRuns: 8 },
    );
  });

  it('names a bound that is not the one that its states give, and what they give', () => {
    const question = plain();
    const json = certificateOf(question);
    for (const place of numbersIn(json).filter(({ pointer }) => pointer.startsWith('/bounds/'))) {
      const verdict = verdictWith(json, { place, value: place.value - 1 }, question);
      expect(verdict).toMatchObject({
        kind: 'refused',
        place: place.pointer,
        found: String(place.value - 1),
        expected: String(place.value),
      });
    }
  });
});
