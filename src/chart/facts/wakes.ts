// The wakes of a trace around a window. Wakes that were just alike are one record; here they stay so.
import { sendOfWake, type Trace, type WakeRecord } from '../../sim/index.js';
import { type Spans, within } from '../../world/index.js';
import { spansIn, type Window } from './window.js';

/** A row of like checks, one every `periodMs`; often just one. */
export interface CheckRun {
  readonly firstMs: number;
  readonly count: number;
  readonly periodMs: number;
  readonly reads: 'open' | 'shut';
  readonly wake: WakeRecord;
}

/** The last instant that a record speaks of. */
function endOf(wake: WakeRecord): number {
  const { check, wakeMs, repeats, periodMs } = wake;
  if (check === null) return wakeMs;
  return sendOfWake(wake)?.endMs ?? check.atMs + repeats * periodMs;
}

/** The index of the first record that ends at or after `atMs`. */
function firstReaching(wakes: readonly WakeRecord[], atMs: number): number {
  let low = 0;
  let high = wakes.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const wake = wakes[middle];
    if (wake !== undefined && endOf(wake) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The records that reach into a window, and with `before` so many earlier ones. */
export function wakesIn(
  { wakes }: Pick<Trace, 'wakes'>,
  { fromMs, toMs }: Window,
  before = 0,
): readonly WakeRecord[] {
  const first = Math.max(0, firstReaching(wakes, fromMs) - before);
  let end = first;
  while ((wakes[end]?.wakeMs ?? toMs) < toMs) end += 1;
  return wakes.slice(first, end);
}

/** All checks in a window. */
export function checksIn(trace: Pick<Trace, 'wakes'>, window: Window): CheckRun[] {
  const runs: CheckRun[] = [];
  for (const wake of wakesIn(trace, window)) {
    const { check, periodMs, repeats } = wake;
    if (check === null) continue;
    const nth = (atMs: number): number => (periodMs > 0 ? (atMs - check.atMs) / periodMs : 0);
    const first = Math.max(0, Math.ceil(nth(window.fromMs)));
    const last = Math.min(repeats, Math.ceil(nth(window.toMs)) - (periodMs > 0 ? 1 : 0));
    const firstMs = check.atMs + first * periodMs;
    if (last < first || firstMs < window.fromMs || firstMs >= window.toMs) continue;
    runs.push({ firstMs, count: last - first + 1, periodMs, reads: check.contact, wake });
  }
  return runs;
}

/** A check at which the contact did not tell the truth. */
export interface WrongCheck {
  readonly atMs: number;
  readonly reads: 'open' | 'shut';
}

export function wrongChecks(run: CheckRun, openings: Spans): WrongCheck[] {
  const wrong: WrongCheck[] = [];
  const lastMs = run.firstMs + (run.count - 1) * run.periodMs;
  const seen = { fromMs: run.firstMs, toMs: lastMs + 1 };
  // Most rows of checks read shut, and no opening is near.
  if (run.reads === 'shut' && spansIn(openings, seen).length === 0) return wrong;
  for (let index = 0; index < run.count; index += 1) {
    const atMs = run.firstMs + index * run.periodMs;
    if (within(openings, atMs) !== (run.reads === 'open')) wrong.push({ atMs, reads: run.reads });
  }
  return wrong;
}
