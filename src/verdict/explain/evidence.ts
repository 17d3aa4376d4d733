// What a reason is built on: the wakes around an opening or an alert, from the last checks before it to the first after it,
// and what the device did between them.

import { cellAt, invariant, trueMs } from '../../base/index.js';
import { openChecks } from '../../machine/index.js';
import { type Requirements } from '../../model/index.js';
import type { CheckRecord, Experiment, Faults, Trace, WakeRecord } from '../../sim/index.js';
import { faultsOf, sendOfWake, simulate } from '../../sim/index.js';
import { firstAfter, spansOf, within } from '../../world/index.js';
import type { Verdict } from '../judgement.js';

export interface Evidence {
  readonly experiment: Experiment;
  readonly verdict: Verdict;
  readonly asked: Requirements;
  /** Recorded around every opening and alert that is to be explained. */
  readonly trace: Trace;
  readonly faults: Faults;
  readonly firstBootMs: number;
}

type PowerOf = Pick<Evidence, 'faults' | 'firstBootMs'>;

/** From an instant up to, and without, another. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Like checks at equal distances: those of one wake and its repeats that fall into a span. */
export interface SeenChecks {
  readonly firstMs: number;
  readonly count: number;
  readonly periodMs: number;
  readonly check: CheckRecord;
  readonly wake: WakeRecord;
}

export function evidenceOf(
  on: Pick<Evidence, 'experiment' | 'verdict' | 'asked'>,
  spans: readonly Span[],
): Evidence {
  const { experiment, verdict, asked } = on;
  const { faults, firstBootMs } = faultsOf(experiment.world);
  const around = spans.map(({ fromMs, toMs }) => [fromMs, toMs] as const);
  const before = experiment.program.watch.escalationThreshold.outOf;
  const trace = simulate(experiment, { record: { around, before } });
  const clearing = experiment.answers?.clears === true;
  return {
    experiment,
    verdict,
    asked,
    trace,
    faults: withFlat(faults, trace, clearing),
    firstBootMs,
  };
}

/** Faults that met the device, people included: an empty one is as good as one without power, and no reset meets it. */
function withFlat(faults: Faults, { flat, answers }: Trace, clearing: boolean): Faults {
  if (flat.length === 0 && answers.length === 0) return faults;
  const all = Array.from(faults.atMs, (atMs, at) => ({
    atMs,
    backMs: cellAt(faults.backMs, at),
    clears: faults.clears[at] ?? 0,
  }));
  const resets = answers.map(({ atMs }) => ({ atMs, backMs: atMs, clears: clearing ? 1 : 0 }));
  const empty = flat.map(({ fromMs, toMs }): [number, number] => [fromMs, toMs]);
  const dark = all.filter(({ atMs, backMs }) => backMs > atMs && atMs < Number.POSITIVE_INFINITY);
  const off = spansOf([
    ...dark.map(({ atMs, backMs }): [number, number] => [atMs, backMs]),
    ...empty,
  ]);
  const met = [
    ...[...all, ...resets].filter(({ atMs, backMs }) => backMs === atMs && !within(off, atMs)),
    ...Array.from(off.fromMs, (atMs, at) => ({ atMs, backMs: cellAt(off.toMs, at), clears: 1 })),
  ].sort((one, other) => one.atMs - other.atMs);
  return {
    atMs: Float64Array.from(met, ({ atMs }) => atMs),
    backMs: Float64Array.from(met, ({ backMs }) => backMs),
    clears: Uint8Array.from(met, ({ clears }) => clears),
    kinds: new Uint8Array(met.length),
  };
}

/**
 * The checks of a span, in order. It begins and ends with a move of the door or a check that decides, and like checks that
 * are written down as one never go on beyond those.
 */
export function checksIn(trace: Trace, { fromMs, toMs }: Span): readonly SeenChecks[] {
  const seen: SeenChecks[] = [];
  for (const wake of trace.wakes) {
    const { check, periodMs, repeats } = wake;
    if (check === null) continue;
    const firstMs = check.atMs;
    invariant(
      firstMs < fromMs
        ? firstMs + repeats * periodMs < fromMs
        : firstMs >= toMs || firstMs + repeats * periodMs < toMs,
      'like checks do not go on beyond a span',
      { firstMs, repeats, periodMs, fromMs, toMs },
    );
    if (firstMs < fromMs || firstMs >= toMs) continue;
    seen.push({ firstMs, count: repeats + 1, periodMs, check, wake });
  }
  return seen;
}

/** How many checks these are. */
export function countOf(seen: readonly SeenChecks[]): number {
  return seen.reduce((sum, { count }) => sum + count, 0);
}

/** The instants of the first of these checks. */
export function instantsOf(seen: readonly SeenChecks[], most: number): readonly number[] {
  const instants: number[] = [];
  for (const { firstMs, count, periodMs } of seen) {
    for (let index = 0; index < count && instants.length < most; index += 1) {
      instants.push(firstMs + index * periodMs);
    }
  }
  return instants;
}

/** The last check before an instant, if there was one. */
export function lastCheckBefore(trace: Trace, instantMs: number): number | null {
  const last = checksIn(trace, { fromMs: 0, toMs: instantMs }).at(-1);
  return last === undefined ? null : last.firstMs + (last.count - 1) * last.periodMs;
}

/** The first check from an instant on, if there was one. */
export function firstCheckFrom(trace: Trace, instantMs: number): number | null {
  const toMs = Number.POSITIVE_INFINITY;
  return checksIn(trace, { fromMs: instantMs, toMs })[0]?.firstMs ?? null;
}

/** How much of a span another one covers. */
function overlapMs(span: Span, fromMs: number, toMs: number): number {
  return Math.max(0, Math.min(span.toMs, toMs) - Math.max(span.fromMs, fromMs));
}

/** For how much of a span the device was without power. */
export function offMsIn({ faults, firstBootMs }: PowerOf, span: Span): number {
  let ms = overlapMs(span, 0, firstBootMs);
  faults.atMs.forEach((atMs, index) => {
    ms += overlapMs(span, atMs, cellAt(faults.backMs, index));
  });
  return ms;
}

/** For how long the device was without power at the end of a span, up to its last millisecond. */
export function offMsAtEnd({ faults, firstBootMs }: PowerOf, { fromMs, toMs }: Span): number {
  let startMs = toMs;
  for (let index = faults.atMs.length - 1; index >= 0; index -= 1) {
    const atMs = cellAt(faults.atMs, index);
    if (atMs < startMs && startMs <= cellAt(faults.backMs, index)) startMs = atMs;
  }
  if (startMs <= firstBootMs) startMs = 0;
  return toMs - Math.max(fromMs, startMs);
}

/** When the device began to hold, and when something ended that. */
function holdOf({ faults, trace }: Evidence, wake: WakeRecord): Span | null {
  const { alertSend, holds } = wake;
  if (!holds) return null;
  invariant(alertSend !== null, 'a device holds from a delivery on', { wake });
  const fromMs = alertSend.endMs;
  const toMs = cellAt(faults.atMs, firstAfter(faults.atMs, fromMs));
  return { fromMs, toMs: Math.min(toMs, trace.lengthMs) };
}

/** For how much of a span the device was holding for a reset. */
export function heldMsIn(evidence: Evidence, span: Span): number {
  return evidence.trace.wakes.reduce((sum, wake) => {
    const hold = holdOf(evidence, wake);
    return hold === null ? sum : sum + overlapMs(span, hold.fromMs, hold.toMs);
  }, 0);
}

/** The delivery of the hold that covers all of a span; null where none does. */
export function heldThroughout(evidence: Evidence, span: Span): number | null {
  for (const wake of evidence.trace.wakes) {
    const hold = holdOf(evidence, wake);
    if (hold !== null && hold.fromMs <= span.fromMs && hold.toMs >= span.toMs) return hold.fromMs;
  }
  return null;
}

/** A hold that begins in a span, and after which the device does not wake again within it. */
interface LastHold {
  readonly decidedMs: number;
  readonly deliveredMs: number;
  readonly heldMs: number;
}

/** The hold after a delivery in a span, if the device does not wake after it in that span; null otherwise. */
export function lastHoldIn(evidence: Evidence, span: Span): LastHold | null {
  const { alerts, wakes } = evidence.trace;
  for (const wake of wakes) {
    const hold = holdOf(evidence, wake);
    if (hold === null || hold.fromMs <= span.fromMs || hold.fromMs >= span.toMs) continue;
    if (wakes.some(({ wakeMs }) => wakeMs >= hold.fromMs && wakeMs < span.toMs)) continue;
    const alert = alerts.find(({ deliveredMs }) => deliveredMs === hold.fromMs);
    invariant(alert !== undefined, 'a device holds from a delivery on', { hold });
    const heldMs = overlapMs(span, hold.fromMs, hold.toMs);
    return { decidedMs: alert.decidedMs, deliveredMs: hold.fromMs, heldMs };
  }
  return null;
}

/** For how much of a span the device was sending. */
export function sendingMsIn({ trace }: Evidence, span: Span): number {
  return trace.wakes.reduce((sum, wake) => {
    const send = sendOfWake(wake);
    return send === null ? sum : sum + overlapMs(span, send.startMs, send.endMs);
  }, 0);
}

/** How many wakes a reset within a span cut off before their check. */
export function wakesCutIn({ faults, trace }: Evidence, span: Span): number {
  return trace.wakes.filter(({ check, wakeMs }) => {
    if (check !== null) return false;
    const fault = firstAfter(faults.atMs, wakeMs);
    const atMs = cellAt(faults.atMs, fault);
    const isReset = cellAt(faults.backMs, fault) === atMs;
    return isReset && atMs >= span.fromMs && atMs < Math.min(span.toMs, trace.lengthMs);
  }).length;
}

/** Power losses, ends of a charge, or resets within a span that took open checks from memory, and how many of these. */
export function countsLostIn(
  { faults, trace }: Evidence,
  span: Span,
  by: 'power loss' | 'charge' | 'reset',
): { readonly times: number; readonly checks: number } {
  let times = 0;
  let checks = 0;
  faults.atMs.forEach((atMs, index) => {
    const isFlat = trace.flat.some((off) => off.fromMs === atMs);
    const lasting = isFlat ? 'charge' : 'power loss';
    const cause = cellAt(faults.backMs, index) === atMs ? 'reset' : lasting;
    if (faults.clears[index] === 0 || cause !== by) return;
    if (atMs < span.fromMs || atMs >= span.toMs) return;
    const last = trace.wakes.findLast(({ wakeMs }) => wakeMs < atMs);
    const lost = last === undefined ? 0 : openChecks(last.memoryAfter);
    if (lost > 0) times += 1;
    checks += lost;
  });
  return { times, checks };
}

/** An hour: most watches would have alerted by then. */
const firstLookBeyondMs = 3_600_000;

/** Whether the contact read open in the last millisecond of a span. */
export function readOpenAtEnd({ world }: Experiment, { toMs }: Span): boolean {
  return (firstAfter(world.contact, toMs - 1) & 1) === 1;
}

/** What would have come after the end of a span. */
interface AlertAfter {
  /** The check that would have decided an alert; null: none by the end of the timeline. */
  readonly atMs: number | null;
  /** Without power from the end of the span to that check, or to the end of the timeline. */
  readonly offMs: number;
}

/** What would have come had the contact read open from the end of a span on, by running just that. */
export function alertAfter(evidence: Evidence, { fromMs, toMs }: Span): AlertAfter {
  const { experiment } = evidence;
  const { world } = experiment;
  const contact = world.contact.slice(0, firstAfter(world.contact, toMs - 1));
  // A door that is never shut is alerted of over and over: run little further than to the first alert.
  for (let beyondMs = firstLookBeyondMs; ; beyondMs *= 4) {
    const lengthMs = trueMs(Math.min(toMs + beyondMs, world.lengthMs));
    const longer = { ...experiment, world: { ...world, contact, lengthMs } };
    const trace = simulate(longer, { record: 'none' });
    const found = trace.alerts.find(({ decidedMs }) => decidedMs >= fromMs);
    if (found === undefined && lengthMs < world.lengthMs) continue;
    const { faults, firstBootMs } = faultsOf(longer.world);
    const met = withFlat(faults, trace, experiment.answers?.clears === true);
    const endMs = found?.decidedMs ?? lengthMs;
    const offMs = offMsIn({ faults: met, firstBootMs }, { fromMs: toMs, toMs: endMs });
    return { atMs: found?.decidedMs ?? null, offMs };
  }
}

/** The last checks up to an instant, that one included: as many as wanted, or all if there are fewer. */
export function lastChecksUpTo(
  trace: Trace,
  instantMs: number,
  wanted: number,
): readonly SeenChecks[] {
  const last: SeenChecks[] = [];
  let missing = wanted;
  for (const seen of checksIn(trace, { fromMs: 0, toMs: instantMs + 1 }).toReversed()) {
    if (missing <= 0) break;
    const count = Math.min(seen.count, missing);
    last.unshift({ ...seen, firstMs: seen.firstMs + (seen.count - count) * seen.periodMs, count });
    missing -= count;
  }
  return last;
}
