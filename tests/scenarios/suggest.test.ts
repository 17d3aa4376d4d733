// What is offered in place of a word that is not known.
import { describe, expect, it } from 'vitest';
import { didYouMean } from '../../src/scenarios/text/suggest.js';

const states = ['open', 'shut', 'on', 'off', '1', '0'];

describe('a word that is not known', () => {
  it.each([
    ['opne', 'did you mean open?'],
    ['no', 'did you mean on?'],
    ['openings', 'did you mean open?'],
  ])('such as %s may be a slip', (written, hint) => {
    expect(didYouMean(written, states)).toBe(hint);
  });

  it.each(['', 'x', '7', 'ajar'])('such as "%s" is none with nothing in common', (written) => {
    expect(didYouMean(written, states)).toBeUndefined();
  });
});
