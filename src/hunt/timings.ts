// How a device's times turn out: one value for the whole trial, mostly an end of its range, or one each time.
import fc from 'fast-check';
import { type Ppm, ppm, trueMs } from '../base/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';

/** The most values that are written out one by one; the last one stays. */
const mostInTurn = 6;

/** Timings without ranges, within the ranges of a device. Shrink towards one least value. */
export function timings(nominal: DeviceTiming): fc.Arbitrary<DeviceTiming> {
  return fc.record({
    bootTime: durations(nominal.bootTime),
    connectTime: durations(nominal.connectTime),
    clockError: clockErrors(nominal.clockError),
  });
}

function durations(varying: VaryingMs): fc.Arbitrary<VaryingMs> {
  if (varying.kind !== 'range') return fc.constant(varying);
  const { leastMs, greatestMs } = varying;
  const ms = fc
    .oneof(fc.constantFrom(leastMs, greatestMs), fc.integer({ min: leastMs, max: greatestMs }))
    .map(trueMs);
  return fc.oneof(
    { weight: 2, arbitrary: ms.map((one): VaryingMs => ({ kind: 'fixed', ms: one })) },
    { weight: 1, arbitrary: several(ms).map((list): VaryingMs => ({ kind: 'inTurn', ms: list })) },
  );
}

function clockErrors(error: ClockError): fc.Arbitrary<ClockError> {
  if (error.kind !== 'drawn') return fc.constant(error);
  const { leastPpm, greatestPpm } = error;
  const nearest = Math.min(Math.max(0, leastPpm), greatestPpm);
  const errors = fc
    .oneof(
      fc.constantFrom<number>(nearest, leastPpm, greatestPpm),
      fc.integer({ min: leastPpm, max: greatestPpm }),
    )
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
