// What a faulty watch makes of its clock and its counters. Each of its wakes counts, and only those at rest, with the door shut, are
// jumped over: nothing in them can go wrong.
import { inputCode, nextState } from '../machine/index.js';
import type { SlipFacts } from './experiment.js';
import { type Run, readingAt, type Slips, type SteadySleep } from './run-state.js';

/** The state in which a wake finds the device: without power where it forgets everything. */
export function foundState(run: Run, slips: Slips): number {
  slips.wakes += 1;
  const facts = factsAt(run, slips, run.wakeMs);
  slips.beforeReading = readingAt(run, run.wakeMs);
  const isOff = run.table.phases[run.state] === 'off';
  if (isOff || slips.of.forgets?.(facts) !== true) return run.state;
  run.cooldownEnd = Number.NEGATIVE_INFINITY;
  run.onMemoryLost(run.wakeMs);
  return nextState(run.table, run.state, inputCode.powerLost);
}

/** The column of a check as the device takes it. */
export function takenCode(
  run: Run,
  slips: Slips,
  { code, atMs }: { readonly code: number; readonly atMs: number },
): number {
  const isDeaf = slips.of.deaf?.(factsAt(run, slips, atMs)) === true;
  return isDeaf ? code & ~inputCode.checkReadsOpen : code;
}

/** Wakes at rest that were jumped over count as well. */
export function slipsRepeat(
  run: Run,
  slips: Slips,
  {
    repeats,
    checkMs,
    sleep,
  }: { readonly repeats: number; readonly checkMs: number; readonly sleep: SteadySleep },
): void {
  if (repeats === 0) return;
  const bootMs = sleep.periodMs - sleep.lengthMs;
  slips.wakes += repeats;
  slips.beforeReading = readingAt(run, checkMs + repeats * sleep.periodMs - bootMs);
}

/** Counting begins again. */
export function countsAgain(slips: Slips, reading: number): void {
  slips.beganReading = reading;
  slips.beforeReading = reading;
  slips.deliveredReading = null;
  slips.wakes = 0;
}

function factsAt(run: Run, slips: Slips, atMs: number): SlipFacts {
  const { beganReading, beforeReading, deliveredReading, wakes } = slips;
  const reading = readingAt(run, atMs);
  return {
    clockMs: reading - beganReading,
    clockBeforeMs: beforeReading - beganReading,
    wakes,
    sinceDeliveryMs: deliveredReading === null ? null : reading - deliveredReading,
  };
}
