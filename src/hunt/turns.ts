// The instants at which something that a device counts wraps round or starts again: counters of 8, 15, 16, 31 and 32 bits of
// wakes, microseconds, milliseconds, seconds, minutes and hours; hours, days, weeks and months, by its clock and in wakes.
import { dayMs, hourMs } from '../base/index.js';
import type { HuntQuestion } from './question.js';
import { rhythmOf } from './rhythm.js';

/** What is counted: a time on the device's clock, in milliseconds, or wakes. */
export interface Turn {
  readonly of: 'clock' | 'wakes';
  /** It comes again each time as much has been counted. */
  readonly period: number;
}

const bits = [8, 15, 16, 31, 32] as const;
const unitsMs = [0.001, 1, 1_000, 60_000, hourMs] as const;
const roundMs = [hourMs, dayMs, 7 * dayMs, 30 * dayMs] as const;
const roundWakes = [100, 1_000, 10_000] as const;

/** Those that a timeline of a question's length can reach, and that are rarer than checks. */
export function turnsOf(question: HuntQuestion): readonly Turn[] {
  const { lengthMs, watch, timing, clockStartsMs = 0 } = question;
  const { checkMs } = rhythmOf(watch, timing);
  const clock = [
    ...unitsMs.flatMap((unitMs) => bits.map((count) => 2 ** count * unitMs)),
    ...roundMs,
  ];
  const wakes = [
    ...bits.map((count) => 2 ** count),
    ...roundWakes,
    ...roundMs.map((ms) => Math.round(ms / watch.checkIntervalMs)),
  ];
  const onClock = [...new Set(clock)]
    .filter((period) => period > checkMs && period - (clockStartsMs % period) < lengthMs)
    .map((period): Turn => ({ of: 'clock', period }));
  const inWakes = [...new Set(wakes)]
    .filter((period) => period > 1 && period * checkMs < lengthMs)
    .map((period): Turn => ({ of: 'wakes', period }));
  return [...onClock, ...inWakes];
}

/**
 * How much is counted when the turn comes round.
 * @param counted so far, since the counter was 0.
 * @param share from 0 to 1: 0 is the next turn, 1 the last that is within reach; in between on a logarithmic scale.
 */
export function turnAfter(
  { period }: Turn,
  {
    counted,
    most,
    share,
  }: { readonly counted: number; readonly most: number; readonly share: number },
): number {
  const next = Math.floor(counted / period) + 1;
  const more = Math.max(0, Math.floor(most / period) - next);
  return (next + logShare(more, share)) * period;
}

/** A whole number from 0 to `most`, on a logarithmic scale. */
export function logShare(most: number, share: number): number {
  return Math.min(most, Math.floor((most + 1) ** share) - 1 + (share >= 1 ? 1 : 0));
}
