// Times of a course that were chosen one by one, said in one word where one word does.
import { trueMs } from '../../base/index.js';
import { clockErrorsOf, type RangeMs } from '../../model/index.js';
import type { Timing, VaryingMs } from '../../world/index.js';
import type { BoundsQuestion } from '../question.js';
import { timesOf } from '../times.js';

/** Plainer times to put in the place of listed ones: all of them together, then one kind after the other. */
export function plainTimings({ program, timing }: BoundsQuestion): readonly Partial<Timing>[] {
  const times = timesOf(program.watch, timing);
  const errors = clockErrorsOf(timing.clockError);
  const constant = (range: RangeMs, end: 'least' | 'most'): VaryingMs => ({
    kind: 'fixed',
    ms: trueMs(range[end]),
  });
  return (['most', 'least'] as const).flatMap((end): Partial<Timing>[] => {
    const bootTime = constant(times.bootMs, end);
    const connectTime = constant(times.connectMs, end);
    if (errors.least === errors.most) {
      return [{ bootTime, connectTime }, { bootTime }, { connectTime }];
    }
    // A list of one error: the device counts its sleeps as it does where errors differ.
    const ppm = [errors[end]];
    const steady: Partial<Timing> = { clockError: { kind: 'inTurn', ppm } };
    return [{ bootTime, connectTime, ...steady }, { bootTime }, { connectTime }, steady];
  });
}
