// What a sentence is built on: the checks around an opening or an alert, unfolded from a trace that was recorded
// just there.
import { invariant, trueMs } from '../../base/index.js';
import type { AlertRecord, CheckRecord, Experiment, Trace, WakeRecord } from '../../sim/index.js';
import { simulate } from '../../sim/index.js';
import { firstAfter } from '../../world/index.js';
import type { Verdict } from '../judgement.js';
import type { JudgeSettings } from '../settings.js';

/** One check with its wake; a folded wake gives several. */
export interface SeenCheck {
  readonly atMs: number;
  readonly check: CheckRecord;
  readonly wake: WakeRecord;
}

export interface Evidence {
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly asked: JudgeSettings;
  /** Recorded around every opening and alert that is to be explained. */
  readonly trace: Trace;
}

export type Span = readonly [fromMs: number, toMs: number];

/** The longest that one wake with its sleep takes, roughly: how far a neighbouring check can be. */
export function reachMs({ program }: Experiment): number {
  const { checkIntervalMs, recheckIntervalMs, retryIntervalMs } = program.watch;
  return 2 * Math.max(checkIntervalMs, recheckIntervalMs, retryIntervalMs) + 120_000;
}

/** Where the checks lie that an alert was decided on. */
export function spanBefore(experiment: Experiment, decidedMs: number): Span {
  const { outOf } = experiment.program.watch.escalationThreshold;
  return [decidedMs - reachMs(experiment) * (outOf + 1), decidedMs];
}

/** The most checks that are unfolded from one folded wake: an explanation needs those at its ends. */
const mostUnfolded = 1_000;

/** Every check with `fromMs ≤ at < toMs`, in order. */
export function checksIn(trace: Trace, fromMs: number, toMs: number): readonly SeenCheck[] {
  const seen: SeenCheck[] = [];
  for (const wake of trace.wakes) {
    const { check, periodMs } = wake;
    if (check === null) continue;
    const first = periodMs > 0 ? Math.max(0, Math.ceil((fromMs - check.atMs) / periodMs)) : 0;
    const last = Math.min(wake.repeats, first + mostUnfolded);
    for (let index = first; index <= last; index += 1) {
      const atMs = check.atMs + index * periodMs;
      if (atMs >= toMs) break;
      if (atMs >= fromMs) seen.push({ atMs, check, wake });
    }
  }
  return seen;
}

/** The last check before the door moved, if one was recorded. A folded wake never reaches past a move. */
export function lastCheckBefore(trace: Trace, movedMs: number): number | null {
  let found: number | null = null;
  for (const { check, repeats, periodMs } of trace.wakes) {
    if (check !== null && check.atMs < movedMs) found = check.atMs + repeats * periodMs;
  }
  return found;
}

/** The first check since the door moved, if one was recorded. */
export function firstCheckFrom(trace: Trace, movedMs: number): number | null {
  for (const { check } of trace.wakes) {
    if (check !== null && check.atMs >= movedMs) return check.atMs;
  }
  return null;
}

/** The alert decided at an instant: its record tells of attempts. */
export function alertDecidedAt(trace: Trace, decidedMs: number): AlertRecord {
  const alert = trace.alerts.find((candidate) => candidate.decidedMs === decidedMs);
  invariant(alert !== undefined, 'a second run makes the same alerts', { decidedMs });
  return alert;
}

/** An hour: most watches would have alerted by then. */
const firstLookBeyondMs = 3_600_000;

/**
 * The check that would have decided an alert had the opening never ended, by running just that; null when none
 * would.
 */
export function wouldHaveAlertedMs(experiment: Experiment, [fromMs, toMs]: Span): number | null {
  const { world } = experiment;
  const edges = firstAfter(world.contact, toMs - 1);
  // Where the contact read shut to the end, a longer opening would have changed nothing for the device.
  if ((edges & 1) === 0) return null;
  const contact = world.contact.slice(0, edges);
  // A door that is never shut is alerted of over and over: run little further than to the first alert.
  for (let beyondMs = firstLookBeyondMs; ; beyondMs *= 4) {
    const lengthMs = trueMs(Math.min(toMs + beyondMs, world.lengthMs));
    const longer = { ...experiment, world: { ...world, contact, lengthMs } };
    const { alerts } = simulate(longer, { record: 'none' });
    const found = alerts.find(({ decidedMs }) => decidedMs >= fromMs);
    if (found !== undefined) return found.decidedMs;
    if (lengthMs >= world.lengthMs) return null;
  }
}
