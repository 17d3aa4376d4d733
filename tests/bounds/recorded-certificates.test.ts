// The certificates in tests/verify/recorded are what the search and its proofs write today: `npx vitest run -u` with this file before it
// writes them again, and the checker's tests take them from there without a search.
import { describe, expect, it } from 'vitest';
import { certified } from '../verify/certificates.js';
import { recordedCases } from '../verify/recorded-cases.js';
import { questionOf } from './question.js';

describe('a recorded certificate', () => {
  it.each(Object.entries(recordedCases))('is what is written today: %s', async (name, asked) => {
    const result = certified(questionOf(asked.watch, asked));
    const text = result.kind === 'certificate' ? result.text : result.why;
    await expect(text).toMatchFileSnapshot(`../verify/recorded/${name}.json`);
  });
});
