// Device times of a counterexample made plainer: one value rather than a list, an end of the range rather than
// something in between. What the watch file leaves no choice of stays as it is.
import { type Ppm, ppm, type TrueMs, trueMs } from '../base/index.js';
import { clockErrorsOf, type PpmRange, type RangeMs, type TimingRanges } from '../model/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';

/** How much there is to say of times that were drawn: for each list its length and 2, for a value between ends 1. */
export function timesCost(drawn: DeviceTiming, from: TimingRanges): number {
  return (
    durationCost(drawn.bootTime, from.bootTime) +
    durationCost(drawn.connectTime, from.connectTime) +
    errorCost(drawn.clockError, clockErrorsOf(from.clockError))
  );
}

/** The same times with one of them plainer. @param from with the ranges they were drawn from. */
export function* plainerTimes(drawn: DeviceTiming, from: TimingRanges): Generator<DeviceTiming> {
  for (const bootTime of plainerDurations(drawn.bootTime, from.bootTime)) {
    yield { ...drawn, bootTime };
  }
  for (const connectTime of plainerDurations(drawn.connectTime, from.connectTime)) {
    yield { ...drawn, connectTime };
  }
  for (const clockError of plainerErrors(drawn.clockError, clockErrorsOf(from.clockError))) {
    yield { ...drawn, clockError };
  }
}

function durationCost(varying: VaryingMs, from: RangeMs): number {
  if (from.least === from.most) return 0;
  if (varying.kind === 'inTurn') return varying.ms.length + 2;
  if (varying.kind !== 'fixed') return 0;
  return varying.ms === from.least || varying.ms === from.most ? 0 : 1;
}

function* plainerDurations(varying: VaryingMs, from: RangeMs): Generator<VaryingMs> {
  if (from.least === from.most) return;
  const listed: readonly TrueMs[] = varying.kind === 'inTurn' ? varying.ms : [];
  for (const ms of [trueMs(from.least), trueMs(from.most), ...listed]) yield { kind: 'fixed', ms };
  for (const ms of shorterLists(listed)) yield { kind: 'inTurn', ms };
}

/** The least error that the range allows. */
function nearestToTrue({ least, most }: PpmRange): Ppm {
  return ppm(Math.min(Math.max(0, least), most));
}

function errorCost(error: ClockError, from: PpmRange): number {
  if (from.least === from.most) return 0;
  if (error.kind === 'inTurn') return error.ppm.length + 3;
  if (error.kind !== 'fixed' || error.ppm === nearestToTrue(from)) return 0;
  return error.ppm === from.least || error.ppm === from.most ? 1 : 2;
}

function* plainerErrors(error: ClockError, from: PpmRange): Generator<ClockError> {
  if (from.least === from.most) return;
  const listed: readonly Ppm[] = error.kind === 'inTurn' ? error.ppm : [];
  for (const one of [nearestToTrue(from), from.least, from.most, ...listed]) {
    yield { kind: 'fixed', ppm: one };
  }
  for (const list of shorterLists(listed)) yield { kind: 'inTurn', ppm: list };
}

/** A list with one value fewer, and at least one. */
function* shorterLists<T>(list: readonly T[]): Generator<readonly T[]> {
  if (list.length < 2) return;
  for (const index of list.keys()) yield list.filter((_, other) => other !== index);
}
