// Figures for people lie on the side of the exact value on which what is said of them stays true.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figure, percentText } from '../../src/base/index.js';
import { countText, knownText } from '../../src/wording/index.js';

const numberOf = (text: string): number => Number(text.replaceAll(/[,%\s]/gu, ''));
const noise = 1e-9;

const values = fc.oneof(
  fc.double({ min: 1e-6, max: 2e6, noNaN: true }),
  fc.double({ min: 99, max: 100, noNaN: true }),
  fc
    .tuple(fc.integer({ min: 1, max: 5_000 }), fc.integer({ min: 1, max: 999 }))
    .map(([a, b]) => a / b),
);

describe('a figure', () => {
  it('rounded up is not less, rounded down not more, and both are near', () => {
    fc.assert(
      fc.property(values, (value) => {
        const up = numberOf(figure(value, 'up'));
        const down = numberOf(figure(value, 'down'));
        expect(up).toBeGreaterThanOrEqual(value * (1 - noise));
        expect(down).toBeLessThanOrEqual(value * (1 + noise));
        expect(up - down).toBeLessThanOrEqual(value * 0.0101);
        expect(numberOf(countText(value, 'up'))).toBe(up);
      }),
      { numRuns: 2_000 },
    );
  });

  it('that is exact stays as it is, whatever the side', () => {
    for (const value of [0, 7.9, 65.9, 0.07 * 100, 1_270, 100, 0.5, 12]) {
      expect(numberOf(figure(value, 'up'))).toBeCloseTo(value, 9);
      expect(figure(value, 'up')).toBe(figure(value, 'down'));
    }
  });

  it('is never 0 % or 100 % of a share that is neither', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.integer({ min: 2, max: 1_000_000 }),
        (part, of) => {
          const share = (1 + (part % (of - 1))) / of;
          for (const rounded of ['about', 'up', 'down'] as const) {
            if (share < 1) expect(numberOf(percentText(share, rounded))).toBeLessThan(100);
            expect(numberOf(percentText(share, rounded))).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 1_000 },
    );
  });

  it('of an interval lies outside of it', () => {
    const known = { kind: 'interval' as const, low: 6.5049, high: 9.5251 };
    expect(knownText(known, figure)).toBe('6.5 to 9.53');
    expect(knownText({ ...known, kind: 'at-most' }, figure)).toBe('at most 9.53');
    expect(knownText({ ...known, kind: 'at-least' }, figure)).toBe('at least 6.5');
  });

  it('of an interval of what was seen is over 0, however little', () => {
    const known = { kind: 'interval' as const, low: 0, high: 0.0081625 };
    expect(knownText(known, percentText)).toBe('over 0 % to 0.817 %');
    expect(knownText({ ...known, low: 1e-6 }, percentText)).toBe('over 0 % to 0.817 %');
    expect(knownText({ ...known, low: 0.0048 }, figure)).toBe('0.0048 to 0.00817');
  });
});
