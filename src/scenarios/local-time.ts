import { InvariantError } from '../base/index.js';
import type { LocalTime, TimelineStart } from './types.js';

export function localTime(_start: TimelineStart, _atMs: number): LocalTime {
  throw new InvariantError('not built yet', {});
}

export function localMidnights(_start: TimelineStart, _lengthMs: number): readonly number[] {
  throw new InvariantError('not built yet', {});
}
