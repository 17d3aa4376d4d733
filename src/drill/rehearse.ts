// A script rehearsed: does the same come of it with every device in its ranges and every person in the tolerance? Where
// the corners decide alike, and no action can meet a wake that it does not cause, all between them decide alike, too:
// instants only grow with clock error, time awake and lateness, so the corners hold each wake's and message's range.
import { itemAt } from '../base/index.js';
import type { Trace, WakeRecord } from '../sim/index.js';
import type { Corner } from './corners.js';
import type { Action, DrillQuestion, Window } from './plan.js';
import { messagesOf, play } from './play.js';

/** The same wake in all corners. */
export interface SureWake {
  readonly wake: WakeRecord;
  readonly wakeFromMs: number;
  readonly workToMs: number;
}

export interface Rehearsal {
  /** Those that come in every corner and are complete, up to where the corners part. */
  readonly wakes: readonly SureWake[];
  /** Ranges of the deliveries, without the tolerance. Null: the corners part before the end. */
  readonly messages: readonly Window[] | null;
}

/** More wakes than this are no drill for a person. */
const mostWakes = 3_000;

/** Null: an action may meet a wake, so that what comes of it depends on chance. */
export function rehearse(
  question: DrillQuestion,
  corners: readonly Corner[],
  on: { readonly actions: readonly Action[]; readonly endsMs: number },
): Rehearsal | null {
  const { program, contact } = question;
  const traces = corners.map((corner) => play(program, { ...on, corner, contact }));
  const runs = traces.map(eachWake);
  const complete = runs.map((wakes) => wakes.filter(isComplete).length);
  const count = Math.min(...complete);
  if (count > mostWakes) return null;
  const wakes: SureWake[] = [];
  for (let index = 0; index < count; index += 1) {
    const same = runs.map((run) => itemAt(run, index));
    const [wake] = same;
    if (wake === undefined || new Set(same.map(signature)).size !== 1) break;
    wakes.push({
      wake,
      wakeFromMs: Math.min(...same.map(({ wakeMs }) => wakeMs)),
      workToMs: Math.max(...same.map(workEnd)),
    });
  }
  const rest = runs.flatMap((run) => run.slice(wakes.length));
  if (meetsAWake(question, { ...on, wakes, rest })) return null;
  const sure = wakes.length === count && !rest.some(speaks);
  return { wakes, messages: sure ? windowsOf(traces.map(messagesOf)) : null };
}

/** Folded wakes one by one. */
function eachWake({ wakes }: Trace): readonly WakeRecord[] {
  return wakes.flatMap((wake) =>
    wake.repeats === 0
      ? [wake]
      : Array.from({ length: wake.repeats + 1 }, (_, index) => later(wake, index * wake.periodMs)),
  );
}

function later(wake: WakeRecord, byMs: number): WakeRecord {
  const { check, sleep } = wake;
  return {
    ...wake,
    wakeMs: wake.wakeMs + byMs,
    check: check === null ? null : { ...check, atMs: check.atMs + byMs },
    sleep: sleep === null ? null : { ...sleep, fromMs: sleep.fromMs + byMs },
    repeats: 0,
  };
}

function isComplete({ check, alertSend, heartbeatSend }: WakeRecord): boolean {
  return check !== null && alertSend?.outcome !== 'cutOff' && heartbeatSend?.outcome !== 'cutOff';
}

function speaks({ check, alertSend }: WakeRecord): boolean {
  return alertSend !== null || check?.decision === 'alert';
}

function workEnd({ wakeMs, check, alertSend, heartbeatSend }: WakeRecord): number {
  return (alertSend ?? heartbeatSend)?.endMs ?? check?.atMs ?? wakeMs;
}

/** All that a wake decides. */
function signature({ cause, check, alertSend, heartbeatSend, holds, sleep }: WakeRecord): string {
  return [
    cause,
    check?.contact,
    check?.cooldownOver,
    check?.heartbeatDue,
    check?.decision,
    alertSend?.outcome,
    heartbeatSend?.outcome,
    holds,
    sleep?.interval,
  ].join();
}

function meetsAWake(
  { toleranceMs }: DrillQuestion,
  on: {
    readonly actions: readonly Action[];
    readonly wakes: readonly SureWake[];
    readonly rest: readonly WakeRecord[];
  },
): boolean {
  return on.actions.some(({ atMs, deed }) => {
    const fromMs = atMs - toleranceMs;
    const toMs = atMs + toleranceMs;
    const caused = causedBy(deed);
    const meets = on.wakes.some(
      ({ wake, wakeFromMs, workToMs }) =>
        wakeFromMs <= toMs &&
        workToMs >= fromMs &&
        !(wakeFromMs === fromMs && wake.cause === caused),
    );
    return meets || on.rest.some(({ wakeMs }) => wakeMs <= toMs);
  });
}

function causedBy(deed: Action['deed']): WakeRecord['cause'] | null {
  if (deed === 'reset' || deed === 'power-on') return deed;
  return deed === 'open' || deed === 'shut' ? 'contact' : null;
}

function windowsOf(runs: readonly (readonly number[])[]): readonly Window[] | null {
  const [first] = runs;
  if (first === undefined || runs.some((run) => run.length !== first.length)) return null;
  return first.map((_, index) => {
    const instants = runs.map((run) => itemAt(run, index));
    return { fromMs: Math.min(...instants), toMs: Math.max(...instants) };
  });
}
