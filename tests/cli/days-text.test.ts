// Days for people: equal steps as one span, and no list that goes on for pages.
import { describe, expect, it } from 'vitest';
import { daysText } from '../../src/cli/year/days-text.js';

const dayMs = 86_400_000;

/** From 4 May 2026 on, each as many days after the one before as the list says. */
function daysAfter(steps: readonly number[]): readonly string[] {
  let atMs = Date.UTC(2026, 4, 4);
  return [0, ...steps].map((step) => {
    atMs += step * dayMs;
    return new Date(atMs).toISOString().slice(0, 10);
  });
}

describe('days of a year in words', () => {
  it('are one span where they follow each other in equal steps, four of them or more', () => {
    expect(daysText([])).toBe('');
    expect(daysText(daysAfter([]))).toBe('2026-05-04');
    expect(daysText(daysAfter([1, 1]))).toBe('2026-05-04, 2026-05-05, 2026-05-06');
    expect(daysText(daysAfter([1, 1, 1]))).toBe('daily from 2026-05-04 to 2026-05-07 (4 dates)');
    expect(daysText(daysAfter([14, 14, 14, 1, 1, 1, 1]))).toBe(
      'every 14 days from 2026-05-04 to 2026-06-15 (4 dates), daily from 2026-06-16 to 2026-06-19 (4 dates)',
    );
  });

  it('are the first twelve and a count where they are many and uneven', () => {
    const uneven = daysAfter(Array.from({ length: 59 }, (_, index) => 3 + (index % 2)));
    const text = daysText(uneven);
    expect(text.split(', ').slice(0, 12)).toEqual(uneven.slice(0, 12));
    expect(text.split(', ').slice(12).join(', ')).toBe(
      `and 48 further days, each 3 to 4 days after the one before, the last on ${uneven.at(-1) ?? ''}`,
    );
  });
});
