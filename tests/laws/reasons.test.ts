// Every clause of every reason is read back from its sentence and compared with the whole trace of the run.
import { describe, expect, it } from 'vitest';
import { claimKinds } from './support/claims.js';
import { checkReasonsOf } from './support/reason-law.js';

const seed = 'reasons';
/** With mutants, which run these again and again, fewer are enough, and a test that fails soon. */
const cases = process.env['DOZEWATCH_LAW_CASES'];
const experiments = Number(cases ?? 2_000);
const perTest = cases === undefined ? 100 : 10;
const starts = Array.from({ length: experiments / perTest }, (_, index) => index * perTest);

describe('the reasons of random experiments', () => {
  const kinds = new Map<string, number>();
  let reasons = 0;

  it.each(starts)('are true and whole from experiment %i on', (from) => {
    const found = checkReasonsOf(seed, from, from + perTest);
    expect(found.broken).toEqual([]);
    expect(found.reasons).toBeGreaterThan(0);
    reasons += found.reasons;
    for (const [kind, count] of found.kinds) kinds.set(kind, (kinds.get(kind) ?? 0) + count);
  });

  it('make each kind of claim, and no others', () => {
    // The experiments are the same each time, so that these counts do not depend on luck.
    const made = [...kinds.keys()].toSorted();
    expect(made).toEqual(experiments < 2_000 ? made : claimKinds.toSorted());
    expect(reasons).toBeGreaterThan(experiments);
  });
});
