// A script rehearsed: does it end the same way with every device in its ranges and every person in the tolerance? Where
// the corners decide alike, and no action can meet a wake that it does not cause, all between them decide alike, too:
// instants only grow with clock error, time awake and lateness, so the corners hold each wake's and message's range.

import { itemAt, leastOf } from '../base/index.js';
import { inputsOf } from '../coverage/index.js';
import type { WakeCause } from '../machine/index.js';
import { mostDrillWakes } from '../model/index.js';
import { sendOfWake, type Trace, type WakeRecord } from '../sim/index.js';
import type { Corner } from './corners.js';
import type { Action, DrillQuestion, Window } from './plan.js';
import { play } from './play.js';

/** The same wake in all corners: what it decides, and between which instants. */
export interface SureWake {
  readonly cause: WakeCause;
  readonly holds: boolean;
  /** Null before the first alert; else whether its cooldown was over at the check. */
  readonly cooldownOver: boolean | undefined;
  readonly coolsBefore: boolean;
  readonly coolsAfter: boolean;
  readonly beats: boolean;
  /** Codes of the inputs that come with it. */
  readonly codes: readonly number[];
  readonly wakeFromMs: number;
  readonly workToMs: number;
  /** Its attempt to deliver an alert fails. */
  readonly fails: boolean;
  /** Its message. Null: it delivers none. */
  readonly delivers: Window | null;
}

export interface Rehearsal {
  /** Those that come in every corner and are complete, up to where the corners part. */
  readonly wakes: readonly SureWake[];
  /** The first wake in any corner of which that is not so. */
  readonly restFromMs: number;
}

/** Null: an action may meet a wake, so that its result depends on chance. */
export function rehearse(
  question: DrillQuestion,
  corners: readonly Corner[],
  on: { readonly actions: readonly Action[]; readonly endsMs: number },
): Rehearsal | null {
  const { program } = question;
  const runs = corners.map((corner) => eachWake(play(program, { ...on, corner, question })));
  const complete = runs.map((wakes) =>
    wakes.reduce((sum, one) => sum + (isComplete(one) ? 1 : 0), 0),
  );
  const count = leastOf(complete);
  if (count > mostDrillWakes) return null;
  const wakes: SureWake[] = [];
  for (let index = 0; index < count; index += 1) {
    const sure = sureWake(runs, index);
    if (sure === null) break;
    wakes.push(sure);
  }
  let restFromMs = Number.POSITIVE_INFINITY;
  for (const run of runs)
    restFromMs = Math.min(restFromMs, run[wakes.length]?.wakeMs ?? restFromMs);
  return meetsAWake(question, { actions: on.actions, wakes, restFromMs })
    ? null
    : { wakes, restFromMs };
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
  const { check } = wake;
  return {
    ...wake,
    wakeMs: wake.wakeMs + byMs,
    check: check === null ? null : { ...check, atMs: check.atMs + byMs },
  };
}

function isComplete(wake: WakeRecord): boolean {
  return wake.check !== null && sendOfWake(wake)?.outcome !== 'cutOff';
}

function workEnd(wake: WakeRecord): number {
  return sendOfWake(wake)?.endMs ?? wake.check?.atMs ?? wake.wakeMs;
}

/** Null: the corners differ in what they decide in this wake. */
function sureWake(runs: readonly (readonly WakeRecord[])[], index: number): SureWake | null {
  const wake = itemAt(itemAt(runs, 0), index);
  let wakeFromMs = wake.wakeMs;
  let workFromMs = workEnd(wake);
  let workToMs = workFromMs;
  for (const run of runs) {
    const one = itemAt(run, index);
    if (!isSame(one, wake)) return null;
    const end = workEnd(one);
    wakeFromMs = Math.min(wakeFromMs, one.wakeMs);
    workFromMs = Math.min(workFromMs, end);
    workToMs = Math.max(workToMs, end);
  }
  return {
    cause: wake.cause,
    holds: wake.holds,
    cooldownOver: wake.check?.cooldownOver,
    coolsBefore: wake.memoryBefore.coolingDown,
    coolsAfter: wake.memoryAfter.coolingDown,
    beats: wake.heartbeatSend !== null,
    codes: inputsOf(wake, index),
    wakeFromMs,
    workToMs,
    fails: wake.alertSend?.outcome === 'failed',
    delivers:
      wake.alertSend?.outcome === 'delivered' ? { fromMs: workFromMs, toMs: workToMs } : null,
  };
}

/** Whether two wakes decide the same. */
function isSame(one: WakeRecord, other: WakeRecord): boolean {
  const [mine, yours] = [one.check, other.check];
  return (
    one.cause === other.cause &&
    mine?.contact === yours?.contact &&
    mine?.cooldownOver === yours?.cooldownOver &&
    mine?.heartbeatDue === yours?.heartbeatDue &&
    mine?.lowBatteryDue === yours?.lowBatteryDue &&
    mine?.decision === yours?.decision &&
    one.alertSend?.outcome === other.alertSend?.outcome &&
    one.heartbeatSend?.outcome === other.heartbeatSend?.outcome &&
    one.lowBatterySend?.outcome === other.lowBatterySend?.outcome &&
    one.holds === other.holds &&
    one.sleep?.interval === other.sleep?.interval
  );
}

function meetsAWake(
  { toleranceMs }: DrillQuestion,
  on: { readonly actions: readonly Action[] } & Rehearsal,
): boolean {
  return on.actions.some(({ atMs, deed }) => {
    const fromMs = atMs - toleranceMs;
    const toMs = atMs + toleranceMs;
    if (on.restFromMs <= toMs) return true;
    const caused = causedBy(deed);
    return on.wakes.some(
      ({ cause, wakeFromMs, workToMs }) =>
        wakeFromMs <= toMs && workToMs >= fromMs && !(wakeFromMs === fromMs && cause === caused),
    );
  });
}

function causedBy(deed: Action['deed']): WakeCause | null {
  if (deed === 'reset' || deed === 'power-on') return deed;
  return deed === 'open' || deed === 'shut' ? 'contact' : null;
}
