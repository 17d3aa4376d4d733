// The life of a charge in the report of silence: two digits, and never longer than it is.
import { describe, expect, it } from 'vitest';
import { aboutLife } from '../../src/cli/silence/view.js';

const dayMs = 86_400_000;

describe('about how long a charge lasts', () => {
  it.each([
    [8.29, '8.2 d'],
    [42.9, '42 d'],
    [187, '180 d'],
    [729, '720 d'],
    [1_053.1, '2.8 years'],
  ])('is rounded down: %f d are %s', (days, text) => {
    expect(aboutLife(days * dayMs)).toBe(text);
  });
});
