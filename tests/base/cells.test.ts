import { describe, expect, it } from 'vitest';
import { cellAt, InvariantError, itemAt } from '../../src/base/index.js';

describe('a cell that must be there', () => {
  it('is read from a column and from a list', () => {
    expect(cellAt(Float64Array.from([0, 7]), 0)).toBe(0);
    expect(cellAt(Float64Array.from([0, 7]), 1)).toBe(7);
    expect(itemAt(['a', ''], 1)).toBe('');
  });

  it.each([-1, 2, 0.5])('throws where it is not: %f', (index) => {
    expect(() => cellAt(Float64Array.from([0, 7]), index)).toThrow(InvariantError);
    expect(() => itemAt(['a', 'b'], index)).toThrow(InvariantError);
  });
});
