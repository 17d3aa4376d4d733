// Worked examples of clock-difference reasoning, for both sets of clock readings: the search's and the checker's.
// One: N. Fijalkow (ed.), Games on Graphs, chapter 9 (timed games), the example of a difference-bound matrix.
// Two: J. Bengtsson, W. Yi, Timed Automata: Semantics, Algorithms and Tools (2004), the example of a zone and its
// canonical form (from memory); its strict bounds are those of whole numbers here, 1 tighter.
import { describe, expect, it } from 'vitest';
import * as zones from '../../src/bounds/zone.js';
import * as checker from '../../src/verify/zone.js';

const endless = Number.POSITIVE_INFINITY;
/** Clocks by number in the search: x is the outage's, y the opening's, z the heartbeat's. */
const [zero, y, x, z] = [0, 1, 2, 5];
/** The same in the checker. */
const numbers: readonly number[] = [0, 1, 2, 3, 5, 6];
const inChecker = (set: checker.Zone) => (row: number, column: number) =>
  checker.at(set, numbers[row] ?? 0, numbers[column] ?? 0);

/** Both as one kind of matrix, row minus column. */
interface Example {
  readonly name: string;
  readonly at: (row: number, column: number) => number;
}

/** x ≤ 1 ∧ x ≤ y ∧ y ≤ 3 ∧ y − x ≤ 2, as a run: up to 2 pass, x is set to zero, up to 1 passes. */
function triangles(): Example[] {
  const zone = zones.advance(
    zones.restart(zones.advance(zones.zeroZone(), 0, 2), ['outage']),
    0,
    1,
  );
  const early = checker.passed(checker.allZero, { least: 0, most: 2 });
  const set = checker.set(early, 'outage', { least: 0, most: 0 });
  const late = checker.passed(set, { least: 0, most: 1 });
  return [
    { name: 'search', at: (row, column) => zone[row * 6 + column] ?? endless },
    { name: 'checker', at: inChecker(late) },
  ];
}

/** x < 20 ∧ y ≤ 20 ∧ y − x = 10 ∧ z > 5. */
function strips(): Example[] {
  const ten = zones.restart(zones.advance(zones.zeroZone(), 10, 10), ['outage']);
  const free = zones.setWithin(zones.advance(ten, 0, endless), 'heartbeat', {
    least: 6,
    most: endless,
  });
  const zone = zones.atMost(free, 'outage', 19);
  const zoned = zone === null ? null : zones.atMost(zone, 'opening', 20);
  const from = checker.passed(checker.allZero, { least: 10, most: 10 });
  const set = checker.set(from, 'outage', { least: 0, most: 0 });
  const on = checker.passed(set, { least: 0, most: endless });
  const any = checker.set(on, 'heartbeat', { least: 6, most: endless });
  const short = checker.within(any, 'outage', { least: -endless, most: 19 });
  const kept =
    short === null ? null : checker.within(short, 'opening', { least: -endless, most: 20 });
  return [
    { name: 'search', at: (row, column) => zoned?.[row * 6 + column] ?? endless },
    { name: 'checker', at: inChecker(kept ?? checker.allZero) },
  ];
}

describe('clock differences', () => {
  it.each(triangles())('are those of the published matrix: $name', ({ at }) => {
    const matrix = [zero, x, y].map((row) => [zero, x, y].map((column) => at(row, column) + 0));
    expect(matrix).toEqual([
      [0, 0, 0],
      [1, 0, 0],
      [3, 2, 0],
    ]);
  });

  it.each(strips())('imply tighter bounds than were written: $name', ({ at }) => {
    expect(at(y, x)).toBe(10);
    expect(at(x, y)).toBe(-10);
    // y ≤ 20 and y − x = 10 leave x no more than 10; x ≥ 0 leaves y no less than 10.
    expect(at(x, zero)).toBe(10);
    expect(at(zero, y)).toBe(-10);
    expect(at(y, zero)).toBe(20);
  });

  it('leave a clock that nothing is said about on its own', () => {
    const [search] = strips();
    expect(search?.at(zero, z)).toBe(-6);
    expect(search?.at(z, zero)).toBe(endless);
    expect(search?.at(x, z)).toBe(4);
  });

  it('hold nothing where two bounds contradict each other', () => {
    const zone = zones.advance(zones.zeroZone(), 3, 5);
    expect(zones.atMost(zone, 'opening', 2)).toBeNull();
    const set = checker.passed(checker.allZero, { least: 3, most: 5 });
    expect(checker.within(set, 'opening', { least: 0, most: 2 })).toBeNull();
  });
});
