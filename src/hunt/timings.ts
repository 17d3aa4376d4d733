// How a device's times turn out: one value for the whole trial, mostly an end of its range, or one each time.
import fc from 'fast-check';
import { type Ppm, ppm, trueMs } from '../base/index.js';
import { clockErrorsOf, type PpmRange, type RangeMs, type TimingRanges } from '../model/index.js';
import {
  type ClockError,
  type DeviceTiming,
  deviceTiming,
  type VaryingMs,
} from '../world/index.js';

/** The most values that are written out one by one; the last one stays. */
const mostInTurn = 6;

/** Timings without ranges, within the ranges of a device. Shrink towards one least value. */
export function timings(ranges: TimingRanges): fc.Arbitrary<DeviceTiming> {
  return fc
    .record({
      bootTime: durations(ranges.bootTime),
      connectTime: durations(ranges.connectTime),
      clockError: clockErrors(clockErrorsOf(ranges.clockError)),
    })
    .map((drawn) => deviceTiming({ ...drawn, joinWaitMs: ranges.joinWaitMs }));
}

function durations({ least, most }: RangeMs): fc.Arbitrary<VaryingMs> {
  if (least === most) return fc.constant({ kind: 'fixed', ms: trueMs(least) });
  const ms = fc
    .oneof(fc.constantFrom(least, most), fc.integer({ min: least, max: most }))
    .map(trueMs);
  return fc.oneof(
    { weight: 2, arbitrary: ms.map((one): VaryingMs => ({ kind: 'fixed', ms: one })) },
    { weight: 1, arbitrary: several(ms).map((list): VaryingMs => ({ kind: 'inTurn', ms: list })) },
  );
}

function clockErrors({ least, most }: PpmRange): fc.Arbitrary<ClockError> {
  if (least === most) return fc.constant({ kind: 'fixed', ppm: least });
  const nearest = Math.min(Math.max(0, least), most);
  const errors = fc
    .oneof(fc.constantFrom<number>(nearest, least, most), fc.integer({ min: least, max: most }))
    .map((value): Ppm => ppm(value));
  return fc.oneof(
    { weight: 2, arbitrary: errors.map((one): ClockError => ({ kind: 'fixed', ppm: one })) },
    {
      weight: 1,
      arbitrary: several(errors).map((list): ClockError => ({ kind: 'inTurn', ppm: list })),
    },
  );
}

function several<T>(value: fc.Arbitrary<T>): fc.Arbitrary<readonly T[]> {
  return fc.array(value, { minLength: 2, maxLength: mostInTurn });
}
