// The device's times of a timeline made plainer: one value rather than a list, an end of the range rather than something in
// between. What the watch file leaves no choice of becomes that one value.
import { type Ppm, ppm, type TrueMs, trueMs } from '../base/index.js';
import { clockErrorsOf, type PpmRange, type RangeMs, type TimingRanges } from '../model/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';

/**
 * How a clock error that stays the same is written where others are possible: as one, by which the device stretches all that it
 * times; or as a list of one, with which it counts its sleeps at their nominal length, as a search over a range takes it.
 */
export type Steady = 'fixed' | 'inTurn';

/** How much there is to say of chosen times: for each list its length and some more, for a value between ends 1. */
export function timesCost(chosen: DeviceTiming, from: TimingRanges): number {
  return (
    durationCost(chosen.bootTime, from.bootTime) +
    durationCost(chosen.connectTime, from.connectTime) +
    errorCost(chosen.clockError, clockErrorsOf(from.clockError))
  );
}

/** The same times with all of them, or one of them, plainer. @param from with the ranges they were chosen from. */
export function* plainerTimes(
  chosen: DeviceTiming,
  from: TimingRanges,
  steady: Steady,
): Generator<DeviceTiming> {
  const errors = clockErrorsOf(from.clockError);
  for (const end of ['most', 'least'] as const) {
    yield {
      ...chosen,
      bootTime: { kind: 'fixed', ms: trueMs(from.bootTime[end]) },
      connectTime: { kind: 'fixed', ms: trueMs(from.connectTime[end]) },
      clockError: isChoice(errors) ? steadyError(errors[end], steady) : chosen.clockError,
    };
  }
  for (const bootTime of plainerDurations(chosen.bootTime, from.bootTime)) {
    yield { ...chosen, bootTime };
  }
  for (const connectTime of plainerDurations(chosen.connectTime, from.connectTime)) {
    yield { ...chosen, connectTime };
  }
  for (const clockError of plainerErrors(chosen.clockError, errors, steady)) {
    yield { ...chosen, clockError };
  }
}

function isChoice({ least, most }: RangeMs): boolean {
  return least !== most;
}

function durationCost(varying: VaryingMs, from: RangeMs): number {
  if (varying.kind === 'inTurn') return varying.ms.length + 2;
  if (varying.kind !== 'fixed' || !isChoice(from)) return 0;
  return varying.ms === from.least || varying.ms === from.most ? 0 : 1;
}

function* plainerDurations(varying: VaryingMs, from: RangeMs): Generator<VaryingMs> {
  const listed: readonly TrueMs[] = varying.kind === 'inTurn' ? varying.ms : [];
  for (const ms of [trueMs(from.least), trueMs(from.most), ...listed]) yield { kind: 'fixed', ms };
  for (const ms of shorterLists(listed)) yield { kind: 'inTurn', ms };
}

/** The least error that the range allows. */
function nearestToTrue({ least, most }: PpmRange): Ppm {
  return ppm(Math.min(Math.max(0, least), most));
}

function errorCost(error: ClockError, from: PpmRange): number {
  if (!isChoice(from)) return 0;
  if (error.kind === 'sleeps') return error.ms.length + 4;
  if (error.kind === 'inTurn') return error.ppm.length + 3;
  if (error.kind !== 'fixed' || error.ppm === nearestToTrue(from)) return 0;
  return error.ppm === from.least || error.ppm === from.most ? 1 : 2;
}

function* plainerErrors(error: ClockError, from: PpmRange, steady: Steady): Generator<ClockError> {
  if (!isChoice(from)) return;
  const listed: readonly Ppm[] = error.kind === 'inTurn' ? error.ppm : [];
  for (const one of [nearestToTrue(from), from.least, from.most, ...listed]) {
    yield steadyError(one, steady);
  }
  for (const list of shorterLists(listed)) yield { kind: 'inTurn', ppm: list };
}

function steadyError(one: Ppm, steady: Steady): ClockError {
  return steady === 'fixed' ? { kind: 'fixed', ppm: one } : { kind: 'inTurn', ppm: [one] };
}

/** Of a longer list, values are not left out one by one: there would be a run to make for each. */
const mostSingly = 6;

/** Shorter lists of at least one value: without repeats at the end, where the last one stays anyway; half of it; one fewer. */
function* shorterLists<T>(list: readonly T[]): Generator<readonly T[]> {
  if (list.length < 2) return;
  const settled = list.findLastIndex((value) => value !== list.at(-1)) + 2;
  if (settled < list.length) yield list.slice(0, settled);
  if (list.length > 3) yield list.slice(0, Math.ceil(list.length / 2));
  if (list.length > mostSingly) return;
  for (const index of list.keys()) yield list.toSpliced(index, 1);
}
