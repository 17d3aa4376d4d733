// Times of a course that were chosen one by one, said in one word where one word does.
import { trueMs } from '../../base/index.js';
import type { DeviceTiming, RangeMs, VaryingMs } from '../../world/index.js';
import type { BoundsQuestion } from '../bounds.js';
import { timesOf } from '../environment.js';

/** Plainer times to put in the place of listed ones: all of them together, then one kind after the other. */
export function plainTimings({
  program,
  timing,
}: BoundsQuestion): readonly Partial<DeviceTiming>[] {
  const times = timesOf(program.watch, timing);
  const { clockError } = timing;
  const constant = (range: RangeMs, end: 'least' | 'most'): VaryingMs => ({
    kind: 'fixed',
    ms: trueMs(range[end]),
  });
  return (['most', 'least'] as const).flatMap((end): Partial<DeviceTiming>[] => {
    const bootTime = constant(times.bootMs, end);
    const connectTime = constant(times.connectMs, end);
    if (clockError.kind !== 'drawn' || clockError.leastPpm === clockError.greatestPpm) {
      return [{ bootTime, connectTime }, { bootTime }, { connectTime }];
    }
    // A list of one error: the device counts its sleeps as it does where errors differ.
    const ppm = [end === 'most' ? clockError.greatestPpm : clockError.leastPpm];
    const steady: Partial<DeviceTiming> = { clockError: { kind: 'inTurn', ppm } };
    return [{ bootTime, connectTime, ...steady }, { bootTime }, { connectTime }, steady];
  });
}
