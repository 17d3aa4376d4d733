// One number changed is enough: whatever it is, the certificate is refused, and the refusal names a place in it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Verdict } from '../../src/verify/index.js';
import { leadsSomewhere, numbersIn, oneOfEachKind, type Place } from './places.js';
import { recorded, verdictOnRecorded } from './recorded.js';
import type { RecordedName } from './recorded-cases.js';

/** The verdict with one number changed; the number is put back. */
function verdictWith(
  name: RecordedName,
  json: unknown,
  { place, by }: { place: Place; by: number },
): Verdict {
  place.set(place.value + by);
  try {
    return verdictOnRecorded(name, json);
  } finally {
    place.set(place.value);
  }
}

/** Where the certificate is refused: somewhere in the same part of it. */
function refusedAt(name: RecordedName, json: unknown, by: number, place: Place): string {
  const verdict = verdictWith(name, json, { place, by });
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
  it.each<readonly [string, RecordedName, number]>([
    ['of a plain watch', 'plain', 1],
    ['of a plain watch', 'plain', -1],
    ['of a watch that holds until its reset', 'holding', 1],
    ['of a watch that openings wake', 'woken-by-openings', -1],
  ])('is refused, whichever kind of number of the certificate %s it is', (_, name, by) => {
    const json = recorded(name);
    const places = oneOfEachKind(numbersIn(json), by > 0 ? 0 : 2);
    let named = 0;
    for (const place of places) {
      const at = refusedAt(name, json, by, place);
      if (at === place.pointer || place.pointer.startsWith(sealedBy(at))) named += 1;
    }
    expect(places.length).toBeGreaterThan(50);
    // The others contradict a state next to them, and either may be the wrong one.
    expect(named / places.length).toBeGreaterThan(0.7);
    expect(verdictOnRecorded(name, json).kind).toBe('verified');
  });

  it.each<readonly [string, RecordedName]>([
    ['with a power loss', 'power-loss'],
    ['with two outages', 'two-outages'],
    ['that remembers five checks', 'three-of-five'],
  ])('is refused: any of many numbers of a watch %s, by any amount', (_, name) => {
    const json = recorded(name);
    const places = numbersIn(json);
    const amounts = fc.oneof(
      fc.constantFrom(1, -1, 1_000, -1_000, 2 ** 31),
      fc.integer({ min: -50, max: 50 }).filter((by) => by !== 0),
    );
    fc.assert(
      fc.property(fc.constantFrom(...places), amounts, (place, by) => {
        refusedAt(name, json, by, place);
      }),
      { numRuns: 8 },
    );
  });
});
