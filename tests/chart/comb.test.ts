// The comb of checks: its share of positions that report is the proved chance, and each position is what a count finds.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsOf, questionOf, valueAt } from '../../src/bounds/index.js';
import { combAt, combOf, insideMs } from '../../src/chart/comb/comb.js';
import { watchFileOf } from '../support/bounds-answers.js';

const seconds = (least: number, most: number) => fc.integer({ min: least, max: most });

describe('the comb of checks', () => {
  it('of checks every 2 min reports 59,600 of 120,400 positions of an opening of 3 min', () => {
    const comb = combOf(watchFileOf('judge: { leaveOpenAfter: 3m }'));
    expect(comb?.periodMs).toBe(120_400);
    expect(comb?.reportedShare).toBe(59_600 / 120_400);
  });

  it('has the share of positions that bounds prove, and that counting them gives', () => {
    fc.assert(
      fc.property(
        fc.record({
          check: seconds(1, 20),
          recheck: seconds(1, 20),
          open: seconds(1, 4),
          length: seconds(1, 90),
          error: fc.constantFrom('0%', '2%', '-1%'),
        }),
        ({ check, recheck, open, length, error }) => {
          const watchFile = watchFileOf(
            `watch: { checkInterval: ${check}s, recheckInterval: ${recheck}s, escalationThreshold: ${open} }\n` +
              `device: { bootTime: 0ms, clockError: ${error} }\njudge: { leaveOpenAfter: ${length}s }\n`,
          );
          const comb = combOf(watchFile);
          if (comb === null) throw new Error('a steady watch has a comb');
          const { detectionCurve } = boundsOf(questionOf(watchFile));
          expect(comb.reportedShare).toBeCloseTo(valueAt(detectionCurve, comb.lengthMs), 9);
          let reported = 0;
          for (let firstMs = 0; firstMs < comb.periodMs; firstMs += 1) {
            if (combAt(comb, firstMs, comb.lengthMs).decidedMs !== null) reported += 1;
          }
          expect(comb.reportedShare).toBe(reported / comb.periodMs);
          const { checksMs, inside } = combAt(comb, 0, comb.lengthMs);
          const [, , first = 0, second = 0] = checksMs;
          // Where the first tooth inside does not decide, the next one is as far away as the words say.
          if (inside > 1) expect(second - first).toBe(insideMs(comb) ?? comb.periodMs);
          if (open === 1) expect(insideMs(comb)).toBeNull();
        },
      ),
      { numRuns: 25 },
    );
  });

  it('is not drawn where it would not be rigid', () => {
    expect(combOf(watchFileOf('watch: { wakeOn: opening }'))).toBeNull();
    expect(combOf(watchFileOf('device: { clockError: { min: -1%, max: 1% } }'))).toBeNull();
  });
});
