// What may go wrong in a hunt: what its question gives, and the usual amount of each kind that is asked for and not given.
import { describe, expect, it } from 'vitest';
import { type AdversityKind, adversityKinds, calm, withUsual } from '../../src/hunt/index.js';

const dayMs = 86_400_000;
const counts = {
  outages: 'outages',
  power: 'powerLosses',
  resets: 'resets',
  chatter: 'misreads',
} as const;

describe('the faults of a hunt', () => {
  it.each(adversityKinds)(
    'have the usual amount of %s where it is asked for, and none of the others',
    (kind) => {
      const asked = withUsual(calm, [kind]);
      const had = adversityKinds.filter((one) => asked[counts[one]] > 0);
      expect(had).toEqual([kind]);
    },
  );

  it.each(adversityKinds)('keep what is given of %s', (kind) => {
    const others: readonly AdversityKind[] = adversityKinds.filter((one) => one !== kind);
    const given = { ...withUsual(calm, others), [counts[kind]]: 1 };
    expect(withUsual(given, adversityKinds)).toEqual(given);
    expect(withUsual(given, adversityKinds, 60 * dayMs)).toEqual(given);
  });

  it('are more outages and resets in timelines of more than a week', () => {
    const all = (lengthMs: number) => withUsual(calm, adversityKinds, lengthMs);
    const week = 7 * dayMs;
    expect(all(week)).toMatchObject({ outages: 2, powerLosses: 2, resets: 3, misreads: 2 });
    expect(all(week + 1)).toMatchObject({ outages: 6, powerLosses: 2, resets: 6, misreads: 2 });
  });
});
