import { InvariantError } from '../base/index.js';
import type { Summary } from '../verdict/index.js';
import type { Expectations, UnmetExpectation } from './types.js';

export function unmetExpectations(
  _expect: Expectations,
  _summary: Summary,
): readonly UnmetExpectation[] {
  throw new InvariantError('not built yet', {});
}
