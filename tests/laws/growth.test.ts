// However long an input is, it is read, or refused with errors: no reader runs out of stack, goes on for ever, or fails in
// another way. No time is measured here: work that grew with the square of these sizes would not end within a test.
import { describe, expect, it } from 'vitest';
import { growthCases } from '../support/growth.js';

const kinds = [...new Set(growthCases.map(({ of }) => of))];

describe.each(kinds)('%s of great length', (kind) => {
  it.each(growthCases.filter(({ of }) => of === kind).map((one) => [one.name, one] as const))(
    'ends well: %s',
    async (_, one) => {
      const { ends } = one;
      const outcome = await one.run(one.make(one.size));
      if (outcome === 'read') expect(ends).not.toBe('refused');
      else {
        expect(ends).not.toBe('read');
        expect(outcome.refused.length).toBeGreaterThan(0);
        for (const code of outcome.refused) expect(code).toMatch(/^[a-z][a-z0-9-]+$/u);
      }
    },
  );
});
