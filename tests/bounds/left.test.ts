// What the environment has left, as numbers: one for each, and an order in which more left is never less.
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../src/bounds/bounds.js';
import { placesOf } from '../../src/bounds/left.js';
import type { Model } from '../../src/bounds/track.js';
import { range } from '../support/range.js';
import { questionOf } from './question.js';

type Places = ReturnType<typeof placesOf>;
type Left = Parameters<Places['of']>[0];

const outages = 2;
const powerLosses = 1;
const resets = 2;

const all: readonly Left[] = [false, true].flatMap((decidedOnce) =>
  (['late', 'timed', 'once'] as const).flatMap((beat) =>
    (['sent', 'may come'] as const).flatMap((warning) =>
      (['none', 'active', 'over'] as const).flatMap((outage) =>
        range(0, outages + 1).flatMap((outagesLeft) =>
          (['spent', 'active', 'unused'] as const).flatMap((chatter) =>
            range(0, powerLosses + 1).flatMap((lossesLeft) =>
              range(0, resets + 1).map((resetsLeft) => ({
                ...{ decidedOnce, beat, warning, outage, outagesLeft },
                ...{ chatter, lossesLeft, resetsLeft },
              })),
            ),
          ),
        ),
      ),
    ),
  ),
);

function placesWith(warnings: Model['warnings']): Places {
  const environment = { outages, powerLosses, resets };
  return placesOf({ ...modelOf(questionOf({}, { environment })), warnings });
}

describe.each(['never', 'seldom'] as const)('with low-battery messages %s raised', (warnings) => {
  const places = placesWith(warnings);
  const of = (left: Left): number => places.of(left);
  const dominating = (left: Left): readonly number[] => places.dominating(left);
  const byPlace = new Map(all.map((left) => [of(left), left]));

  it('each has a number of its own', () => {
    expect(byPlace.size).toBe(all.length);
    for (const place of byPlace.keys()) expect(Number.isSafeInteger(place)).toBe(true);
  });

  it('each leaves no less than itself, and those that leave more than it do so, too', () => {
    for (const left of all) {
      const above = dominating(left);
      expect(above).toContain(of(left));
      expect(new Set(above).size).toBe(above.length);
      for (const place of above.slice(0, 8)) {
        const higher = byPlace.get(place);
        expect(higher).toBeDefined();
        if (higher !== undefined)
          expect(above).toEqual(expect.arrayContaining([...dominating(higher)]));
      }
    }
  });

  it('with one power loss, one reset or one outage more there is more left, and never less', () => {
    for (const left of all) {
      const more = [
        { ...left, lossesLeft: left.lossesLeft + 1 },
        { ...left, resetsLeft: left.resetsLeft + 1 },
        { ...left, outagesLeft: left.outagesLeft + 1 },
      ].filter(
        (one) =>
          one.lossesLeft <= powerLosses && one.resetsLeft <= resets && one.outagesLeft <= outages,
      );
      for (const one of more) {
        expect(dominating(left)).toContain(of(one));
        expect(dominating(one)).not.toContain(of(left));
      }
    }
  });

  it('an alert that was decided, chatter that is over and a heartbeat that has its time can each be had by one that is freer', () => {
    for (const left of all) {
      const reaches = (change: Partial<Left>) =>
        dominating(left).includes(of({ ...left, ...change }));
      expect(reaches({ decidedOnce: false })).toBe(true);
      expect(reaches({ decidedOnce: true })).toBe(left.decidedOnce);
      expect(reaches({ chatter: 'unused' })).toBe(left.chatter !== 'active');
      expect(reaches({ chatter: 'active' })).toBe(left.chatter === 'active');
      expect(reaches({ chatter: 'spent' })).toBe(left.chatter === 'spent');
      expect(reaches({ beat: 'once' })).toBe(true);
      expect(reaches({ beat: 'timed' })).toBe(left.beat === 'timed');
      expect(reaches({ beat: 'late' })).toBe(left.beat === 'late');
      expect(reaches({ warning: 'may come' })).toBe(
        left.warning === 'may come' || warnings !== 'never',
      );
      expect(reaches({ warning: 'sent' })).toBe(left.warning === 'sent');
    }
  });

  it('an outage that goes on costs one that has not begun, and a wait for the next costs none', () => {
    for (const left of all) {
      const reaches = (change: Partial<Left>) =>
        dominating(left).includes(of({ ...left, ...change }));
      for (const outagesLeft of range(0, outages + 1)) {
        const costs = left.outage === 'active' ? 1 : 0;
        const none = outagesLeft >= left.outagesLeft + costs;
        expect(reaches({ outage: 'none', outagesLeft })).toBe(none);
        for (const outage of ['active', 'over'] as const) {
          const isSame = left.outage === outage && outagesLeft >= left.outagesLeft;
          expect(reaches({ outage, outagesLeft })).toBe(isSame);
        }
      }
    }
  });
});
