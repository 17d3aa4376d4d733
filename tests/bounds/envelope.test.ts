// The least and the greatest of several curves, against their values at every millisecond.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Curve } from '../../src/bounds/answer.js';
import { envelope, valueAt } from '../../src/bounds/curves/envelope.js';
import { range } from '../support/range.js';

const lastMs = 40;

/** Between 0 and 1 in twelfths; flat stretches are frequent. */
const curve: fc.Arbitrary<Curve> = fc
  .uniqueArray(fc.integer({ min: 0, max: lastMs }), { minLength: 1, maxLength: 6 })
  .chain((instants) =>
    fc
      .array(fc.integer({ min: 0, max: 12 }), {
        minLength: instants.length,
        maxLength: instants.length,
      })
      .map((twelfths) =>
        instants
          .toSorted((a, b) => a - b)
          .map((ms, index) => [ms, (twelfths[index] ?? 0) / 12] as const),
      ),
  );

/** By the definition: on the line between the two points around it, flat before the first and after the last. */
function heightOf(points: Curve, ms: number): number {
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined) return 0;
  if (ms <= first[0]) return first[1];
  if (ms >= last[0]) return last[1];
  const place = points.findIndex(([at]) => at > ms);
  const [fromMs, from] = points[place - 1] ?? first;
  const [toMs, to] = points[place] ?? last;
  return (from * (toMs - ms) + to * (ms - fromMs)) / (toMs - fromMs);
}

it('a curve has the height of the line between its points', () => {
  fc.assert(
    fc.property(curve, (points) => {
      for (const ms of range(-2, lastMs + 3)) {
        expect(valueAt(points, ms)).toBeCloseTo(heightOf(points, ms), 10);
      }
    }),
  );
  expect(valueAt([], 3)).toBe(0);
});

it.each(['least', 'greatest'] as const)('is the %s at every millisecond', (pick) => {
  const extreme = pick === 'least' ? Math.min : Math.max;
  fc.assert(
    fc.property(fc.array(curve, { minLength: 1, maxLength: 4 }), (curves) => {
      const found = envelope(curves, pick === 'least' ? Math.min : Math.max);
      for (const ms of range(-2, lastMs + 3)) {
        const wanted = extreme(...curves.map((points) => heightOf(points, ms)));
        expect(valueAt(found, ms)).toBeCloseTo(wanted, 10);
      }
    }),
  );
});

it('has no point that a line through its neighbours has, and at least one', () => {
  fc.assert(
    fc.property(fc.array(curve, { minLength: 1, maxLength: 3 }), (curves) => {
      const found = envelope(curves, Math.min);
      expect(found.length).toBeGreaterThan(0);
      for (const [index, [ms, height]] of found.entries()) {
        const others = found.filter((_, other) => other !== index);
        if (others.length > 0)
          expect(Math.abs(heightOf(others, ms) - height)).toBeGreaterThan(1e-12);
      }
    }),
  );
});
