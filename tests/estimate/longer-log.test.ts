// How long a log must be that shows little.
import { describe, expect, it } from 'vitest';
import { isTooShort, longerLog } from '../../src/estimate/index.js';
import { longerLogText } from '../../src/wording/index.js';

describe('the length advised for a log that is too short', () => {
  it('is longer than the log, and has enough openings if the door opens as often', () => {
    for (const days of [0.1, 1, 6.9, 7, 9.67, 40, 365, 800]) {
      for (const openings of [1, 5, 19, 20, 300]) {
        if (!isTooShort({ days, openings })) continue;
        const wanted = longerLog({ days, openings });
        expect(wanted.days).toBeGreaterThan(days);
        const expected = (openings * wanted.days) / Math.max(1, days);
        expect(isTooShort({ days: wanted.days, openings: expected })).toBe(false);
      }
    }
  });

  it.each([
    [{ days: 9.67, openings: 19 }, 'about 3 weeks in all (40 openings'],
    [{ days: 6, openings: 300 }, 'at least a week'],
    [{ days: 0.2, openings: 15 }, 'at least a week'],
    [{ days: 365, openings: 4 }, 'about 10 years in all (40 openings'],
  ])('for %j starts with %s', (evidence, text) => {
    expect(longerLogText(evidence).slice(0, text.length)).toBe(text);
  });
});
