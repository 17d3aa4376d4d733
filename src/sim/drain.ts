// Where the loop of a run meets its supply: each stage of a priced wake sets the limit that the device cannot pass.
import { readsOpenAt } from '../world/index.js';
import { type Charge, look, lookSooner, looksLow, offUntil, passes, type Stage } from './charge.js';
import type { Run } from './run-state.js';
import type { SendKind } from './running-tally.js';

/** Before a wake: whether it has to be priced. */
export function lookAtCharge(run: Run): void {
  const { charge } = run;
  if (charge === null) return;
  look(charge, run.tally, run.wakeMs);
  run.limitMs = run.dueMs;
}

/** Up to where quiet wakes need no look at the charge. */
export function quietUntilMs({ charge, limitMs }: Run): number {
  return charge === null ? limitMs : Math.min(limitMs, charge.lookMs);
}

function pass(run: Run, charge: Charge, stage: Stage): void {
  const toMs = Math.min(stage.toMs, run.dueMs);
  charge.emptyMs = passes(charge, run.tally, { ...stage, toMs });
  run.limitMs = Math.min(run.dueMs, charge.emptyMs);
}

/** From the wake to its check. The wake is counted already. */
export function drainsAtBoot(run: Run, checkMs: number): void {
  const { charge } = run;
  if (charge?.careful !== true) return;
  const { boot, biasPerBootMs } = charge.prices;
  const bias = readsOpenAt(run.edges, checkMs) ? 0n : biasPerBootMs;
  pass(run, charge, {
    fromMs: run.wakeMs,
    toMs: checkMs,
    perMs: boot.whileNa + bias,
    isOn: true,
  });
}

/** At a check, before it decides anything: whether the battery is low. */
export function looksAtBattery({ charge, tally }: Run, checkMs: number): void {
  if (charge?.careful === true) looksLow(charge, tally, checkMs);
}

/** From its start to where the network should be up, and from there on waiting for it. */
export interface SendStretch {
  readonly startMs: number;
  readonly dueMs: number;
  readonly endMs: number;
  readonly isUp: boolean;
}

/** A send. It is counted when it is over. */
export function drainsAtSend(run: Run, kind: SendKind, on: SendStretch): void {
  const { charge } = run;
  if (charge === null) return;
  if (!charge.careful) {
    lookSooner(charge, charge.worst.send);
    return;
  }
  const { heartbeat, connect, failedAttempt, waitPerMs, sleepPerMs } = charge.prices;
  const { startMs, dueMs, endMs } = on;
  const price = kind === 'heartbeat' ? heartbeat : on.isUp ? connect : failedAttempt;
  const { eachPc, whileNa } = price;
  pass(run, charge, { fromMs: startMs, toMs: dueMs, perMs: whileNa, atOnce: eachPc, isOn: true });
  if (run.limitMs <= dueMs) return;
  // The totals have this send as sleep so far.
  const atOnce = eachPc + (whileNa - sleepPerMs) * BigInt(dueMs - startMs);
  pass(run, charge, { fromMs: dueMs, toMs: endMs, perMs: waitPerMs, atOnce, isOn: true });
}

/** Asleep, up to the next wake. */
export function drainsAsleep(run: Run, fromMs: number): void {
  const { charge } = run;
  if (charge?.careful !== true) return;
  const perMs = charge.prices.sleepPerMs;
  pass(run, charge, { fromMs, toMs: run.wakeMs, perMs, isOn: true });
}

/** Awake until a reset, however long that takes: always priced. */
export function drainsHeld(run: Run, fromMs: number): void {
  const { charge } = run;
  if (charge === null) return;
  const perMs = charge.prices.holdPerMs;
  pass(run, charge, { fromMs, toMs: run.dueMs, perMs, isOn: true });
  charge.lookMs = Number.NEGATIVE_INFINITY;
}

/** A wake that no timer made. */
export function lookAfterWake({ charge }: Run): void {
  if (charge !== null) lookSooner(charge, charge.worst.wake);
}

/** Whether the charge ends before any fault strikes. */
export function isEmptyNext({ charge, dueMs }: Run): boolean {
  return charge !== null && charge.emptyMs <= dueMs;
}

/** When a device that goes off boots again. */
export function backFrom(
  run: Run,
  off: { readonly atMs: number; readonly powerBackMs: number; readonly isFlat: boolean },
): number {
  const { charge, tally, lengthMs } = run;
  if (charge === null) return off.powerBackMs;
  const flats = charge.flat.length;
  const backMs = offUntil(charge, tally, off);
  for (const { fromMs, toMs } of charge.flat.slice(flats)) tally.flatMs += toMs - fromMs;
  charge.shutOffMs += charge.shutMs(off.atMs, Math.min(backMs, lengthMs));
  charge.lookMs = Number.NEGATIVE_INFINITY;
  charge.emptyMs = Number.POSITIVE_INFINITY;
  return backMs;
}
