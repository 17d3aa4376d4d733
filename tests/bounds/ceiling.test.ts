// Ceilings kept as a few parts, against the height over every reading.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Ceiling, isUnder, raise } from '../../src/bounds/ceiling.js';
import { range } from '../support/range.js';

const lastReading = 24;

const line = fc
  .record({
    from: fc.integer({ min: 0, max: lastReading }),
    length: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: lastReading })),
    flat: fc.integer({ min: 0, max: 30 }),
    rise: fc.integer({ min: -20, max: 30 }),
  })
  .map(({ from, length, flat, rise }) => ({
    from,
    to: Math.min(lastReading, from + length),
    flat,
    rise,
  }));

type Line = Parameters<typeof isUnder>[0];

function heightAt({ flat, rise }: Line, reading: number): number {
  return Math.min(flat, reading + rise);
}

/** The height over each reading, by the definition. */
function highest(lines: readonly Line[], reading: number): number {
  const over = lines.filter(({ from, to }) => from <= reading && reading <= to);
  return Math.max(...over.map((one) => heightAt(one, reading)));
}

/** Each node is the index of its line. */
function raisedBy(lines: readonly Line[]): Ceiling<number> {
  const ceiling: Ceiling<number> = { parts: [] };
  const owners = () => new Set(ceiling.parts.map(({ owner }) => owner.node));
  for (const [index, raised] of lines.entries()) {
    const before = owners();
    const gone = raise(ceiling, raised, index);
    const now = owners();
    const isOut = [...before].filter((one) => !now.has(one));
    expect(new Set(gone)).toEqual(new Set(isOut));
    expect(gone.length).toBe(isOut.length);
  }
  return ceiling;
}

it('keeps the highest line over each reading, and whose it is', () => {
  fc.assert(
    fc.property(fc.array(line, { maxLength: 12 }), (lines) => {
      const ceiling = raisedBy(lines);
      for (const reading of range(0, lastReading + 1)) {
        const parts = ceiling.parts.filter(({ from, to }) => from <= reading && reading <= to);
        const height = highest(lines, reading);
        expect(parts.map((part) => heightAt(part, reading))).toEqual(
          Number.isFinite(height) ? [height] : [],
        );
        // Whose it is reaches as high there.
        expect(
          parts.map(({ owner }) => highest(lines.slice(owner.node, owner.node + 1), reading)),
        ).toEqual(Number.isFinite(height) ? [height] : []);
      }
      const starts = ceiling.parts.map(({ from }) => from);
      expect(starts).toEqual(starts.toSorted((a, b) => a - b));
      // Parts side by side of one owner are one part.
      const joined = ceiling.parts.filter(({ from, owner }, place) => {
        const before = ceiling.parts[place - 1];
        return before?.owner === owner && before.to + 1 === from;
      });
      expect(joined).toEqual([]);
      for (const { owner } of ceiling.parts) {
        expect(owner.parts).toBe(ceiling.parts.filter((part) => part.owner === owner).length);
      }
    }),
  );
});

it('covers a line where together they are nowhere lower', () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(line, { maxLength: 6 }), { maxLength: 3 }),
      line,
      (listed, asked) => {
        const covered = range(asked.from, asked.to + 1).every((reading) =>
          listed.some((lines) => highest(lines, reading) >= heightAt(asked, reading)),
        );
        expect(isUnder(asked, listed.map(raisedBy))).toBe(covered);
      },
    ),
  );
});

it('lays a ceiling of many parts again below a line over them all', () => {
  const teeth = range(0, 600).map((index) => ({
    ...{ from: 4 * index, to: 4 * index + 1 },
    ...{ flat: index % 2 === 0 ? 9 : 3, rise: 10_000 },
  }));
  const wide = { from: 0, to: 2_399, flat: 5, rise: 10_000 };
  const lines = [...teeth, wide];
  const { parts } = raisedBy(lines);
  for (const { from, to, flat } of parts) {
    for (const reading of range(from, to + 1)) expect(flat).toBe(highest(lines, reading));
  }
  expect(parts.reduce((sum, { from, to }) => sum + to - from + 1, 0)).toBe(2_400);
});
