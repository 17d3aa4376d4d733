import { describe, expect, it } from 'vitest';
import { withArticle } from '../../src/base/index.js';

describe('an article', () => {
  it.each([
    ['lognormal', 'a lognormal'],
    ['exponential', 'an exponential'],
    ['unknown key', 'an unknown key'],
    // It sounds as if it began with a y.
    ['usage profile', 'a usage profile'],
    ['unit', 'a unit'],
  ])('of %s', (word, text) => {
    expect(withArticle(word)).toBe(text);
  });
});
