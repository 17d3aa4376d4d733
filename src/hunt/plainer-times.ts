// Device times of a counterexample made plainer: one value rather than a list, an end of the range rather than
// something in between. What the watch file leaves no choice of stays as it is.
import { type Ppm, ppm, type TrueMs } from '../base/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../world/index.js';

/** How much there is to say of times that were drawn: for each list its length and 2, for a value between ends 1. */
export function timesCost(drawn: DeviceTiming, from: DeviceTiming): number {
  return (
    durationCost(drawn.bootTime, from.bootTime) +
    durationCost(drawn.connectTime, from.connectTime) +
    errorCost(drawn.clockError, from.clockError)
  );
}

/** The same times with one of them plainer. @param from with the ranges they were drawn from. */
export function* plainerTimes(drawn: DeviceTiming, from: DeviceTiming): Generator<DeviceTiming> {
  for (const bootTime of plainerDurations(drawn.bootTime, from.bootTime)) {
    yield { ...drawn, bootTime };
  }
  for (const connectTime of plainerDurations(drawn.connectTime, from.connectTime)) {
    yield { ...drawn, connectTime };
  }
  for (const clockError of plainerErrors(drawn.clockError, from.clockError)) {
    yield { ...drawn, clockError };
  }
}

function durationCost(varying: VaryingMs, from: VaryingMs): number {
  if (from.kind !== 'range') return 0;
  if (varying.kind === 'inTurn') return varying.ms.length + 2;
  if (varying.kind !== 'fixed') return 0;
  return varying.ms === from.leastMs || varying.ms === from.greatestMs ? 0 : 1;
}

function* plainerDurations(varying: VaryingMs, from: VaryingMs): Generator<VaryingMs> {
  if (from.kind !== 'range') return;
  const listed: readonly TrueMs[] = varying.kind === 'inTurn' ? varying.ms : [];
  for (const ms of [from.leastMs, from.greatestMs, ...listed]) yield { kind: 'fixed', ms };
  for (const ms of shorterLists(listed)) yield { kind: 'inTurn', ms };
}

/** The least error that the range allows. */
function nearestToTrue({ leastPpm, greatestPpm }: ClockError & { readonly kind: 'drawn' }): Ppm {
  return ppm(Math.min(Math.max(0, leastPpm), greatestPpm));
}

function errorCost(error: ClockError, from: ClockError): number {
  if (from.kind !== 'drawn') return 0;
  if (error.kind === 'inTurn') return error.ppm.length + 3;
  if (error.kind !== 'fixed' || error.ppm === nearestToTrue(from)) return 0;
  return error.ppm === from.leastPpm || error.ppm === from.greatestPpm ? 1 : 2;
}

function* plainerErrors(error: ClockError, from: ClockError): Generator<ClockError> {
  if (from.kind !== 'drawn') return;
  const listed: readonly Ppm[] = error.kind === 'inTurn' ? error.ppm : [];
  for (const one of [nearestToTrue(from), from.leastPpm, from.greatestPpm, ...listed]) {
    yield { kind: 'fixed', ppm: one };
  }
  for (const list of shorterLists(listed)) yield { kind: 'inTurn', ppm: list };
}

/** A list with one value fewer, and at least one. */
function* shorterLists<T>(list: readonly T[]): Generator<readonly T[]> {
  if (list.length < 2) return;
  for (const index of list.keys()) yield list.filter((_, other) => other !== index);
}
