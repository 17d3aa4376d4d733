// The supply as a run drains it. What has gone is a sum over the totals of the run, priced in whole numbers, so that nothing
// drifts. Far from empty nothing is priced: `lookMs` is an instant before which the charge cannot end, at the greatest spending
// that quiet wakes can have. From there on each wake is priced stage by stage, and the first millisecond without charge found.
//
// What an act takes at its beginning has gone one millisecond later; a charge comes before anything else of its instant.
import { dayMs } from '../base/index.js';
import type { ChargePlan } from '../model/index.js';
import { type Spans, spanAt, type World } from '../world/index.js';
import {
  lowAfter,
  type Prices,
  pricesOf,
  shutTime,
  type WorstSpending,
  worstSpending,
} from './charge-prices.js';
import type { Experiment } from './experiment.js';
import type { RunningTally, Sends } from './running-tally.js';
import type { ChargeRecord } from './trace.js';

/** The supply of a run, and what has gone from it. */
export interface Charge {
  readonly prices: Prices;
  readonly worst: WorstSpending;
  readonly shutMs: (fromMs: number, toMs: number) => number;
  readonly powerLost: Spans;
  readonly lengthMs: number;
  readonly firstBootMs: number;
  /** Charges that are due anyway, ascending; the first that is still to come; and those that somebody comes for. */
  readonly plannedMs: Float64Array;
  planned: number;
  /** How long after a low-battery message somebody charges; null: nobody does. */
  readonly afterWarningMs: number | null;
  readonly isWarningSeen: (deliveredMs: number) => boolean;
  answeredMs: number;
  silenceMs: number;
  /** The last charge, and what the acts of the run had taken up to it. */
  fullMs: number;
  actsAtFull: bigint;
  /** How long the contact was closed while the device was off. */
  shutOffMs: number;
  /** Until a wake that begins here, the charge lasts and nobody charges. */
  lookMs: number;
  /** This wake is priced. */
  careful: boolean;
  /** In a priced wake: the first millisecond without charge, as far as the wake goes. */
  emptyMs: number;
  /** How much has gone when the battery is low; null: it is never low. */
  readonly lowAfter: bigint | null;
  /** A check has found it low, and nobody has charged it since. */
  isLow: boolean;
  readonly flat: { readonly fromMs: number; readonly toMs: number }[];
  readonly charges: ChargeRecord[];
}

/** Which way time passes. */
export interface Stage {
  readonly fromMs: number;
  readonly toMs: number;
  readonly perMs: bigint;
  /** What it takes at its beginning, where the totals do not have that yet. */
  readonly atOnce?: bigint;
  /** Whether a pull-up that always has power has it now. */
  readonly isOn: boolean;
}

export function openCharge(
  { program, timing, world }: Experiment,
  plan: ChargePlan,
  firstBootMs: number,
): Charge {
  const prices = pricesOf(plan.supply);
  const { lowBattery } = program.watch;
  const low = lowBattery === undefined ? null : lowAfter(plan.supply, lowBattery.level);
  return {
    prices,
    worst: worstSpending(prices, program, timing),
    shutMs: prices.biasPerMs === 0n ? () => 0 : shutTime(world.contact),
    powerLost: world.powerLost,
    lengthMs: world.lengthMs,
    firstBootMs,
    plannedMs: plannedCharges(world, plan.charging.everyMs, firstBootMs),
    planned: 0,
    afterWarningMs: plan.charging.afterWarningMs ?? null,
    isWarningSeen: plan.isWarningSeen ?? (() => true),
    answeredMs: Number.POSITIVE_INFINITY,
    silenceMs: Number.POSITIVE_INFINITY,
    fullMs: firstBootMs,
    actsAtFull: 0n,
    shutOffMs: 0,
    lookMs: Number.NEGATIVE_INFINITY,
    careful: false,
    emptyMs: Number.POSITIVE_INFINITY,
    lowAfter: low,
    isLow: false,
    flat: [],
    charges: [],
  };
}

/** Those of the timeline and those of the habit, after power-on and within the timeline. */
function plannedCharges(
  { chargedMs, lengthMs }: World,
  everyMs: number | null,
  firstBootMs: number,
): Float64Array {
  const all = new Set<number>();
  for (const atMs of chargedMs ?? []) if (atMs > firstBootMs && atMs < lengthMs) all.add(atMs);
  if (everyMs !== null) {
    for (let atMs = firstBootMs + everyMs; atMs < lengthMs; atMs += everyMs) all.add(atMs);
  }
  return Float64Array.from(all).sort((a, b) => a - b);
}

function nextChargeMs({ plannedMs, planned, answeredMs, silenceMs }: Charge): number {
  return Math.min(plannedMs[planned] ?? Number.POSITIVE_INFINITY, answeredMs, silenceMs);
}

/** What is priced of the totals: a low-battery message costs what an alert does. */
function countedIn(tally: RunningTally, atMs: number) {
  const { alert, heartbeat, lowBattery, failed } = tally.sends;
  const countOf = (one: Sends): number => one.delivered + one.failed + one.cutOff;
  const alertMs = alert.ms + lowBattery.ms;
  return {
    wakes: tally.wakes[0] + tally.wakes[1] + tally.wakes[2] + tally.wakes[3],
    asleepMs:
      atMs - tally.offMs - tally.bootMs - alertMs - heartbeat.ms - tally.waitMs - tally.heldMs,
    alerts: countOf(alert) + countOf(lowBattery),
    alertMs,
    beats: countOf(heartbeat),
    beatsMs: heartbeat.ms,
    failed,
  };
}

/** What the acts of a run have taken, by its totals, which are complete up to this instant. */
function actsUpTo(charge: Charge, tally: RunningTally, atMs: number): bigint {
  const { prices, shutMs, firstBootMs, shutOffMs } = charge;
  const { wakes, asleepMs, alerts, alertMs, beats, beatsMs, failed } = countedIn(tally, atMs);
  return (
    BigInt(asleepMs) * prices.sleepPerMs +
    BigInt(wakes) * prices.boot.eachPc +
    BigInt(tally.bootMs) * prices.boot.whileNa +
    BigInt(tally.shutBootMs) * prices.biasPerBootMs +
    BigInt(tally.openChecks) * prices.blink +
    BigInt(alerts - failed.count) * prices.connect.eachPc +
    BigInt(alertMs - failed.ms) * prices.connect.whileNa +
    BigInt(failed.count) * prices.failedAttempt.eachPc +
    BigInt(failed.ms) * prices.failedAttempt.whileNa +
    BigInt(beats) * prices.heartbeat.eachPc +
    BigInt(beatsMs) * prices.heartbeat.whileNa +
    BigInt(tally.waitMs) * prices.waitPerMs +
    BigInt(tally.heldMs) * prices.holdPerMs +
    BigInt(shutMs(firstBootMs, atMs) - shutOffMs) * prices.biasPerMs
  );
}

/** What has gone since the last charge, where the acts of the run have taken so much. */
function drained(charge: Charge, acts: bigint, atMs: number): bigint {
  const sinceMs = atMs - charge.fullMs;
  return goneSince(charge, acts, { sinceMs, firstDayMs: Math.min(sinceMs, dayMs) });
}

function goneSince(
  { prices, actsAtFull }: Charge,
  acts: bigint,
  { sinceMs, firstDayMs }: { readonly sinceMs: number; readonly firstDayMs: number },
): bigint {
  const used = acts - actsAtFull;
  return used + BigInt(sinceMs) * prices.selfPerMs + BigInt(firstDayMs) * prices.firstDayPerMs;
}

/** Before a wake at this instant: whether it has to be priced, and how long none has to be. */
export function look(charge: Charge, tally: RunningTally, atMs: number): void {
  charge.careful = false;
  charge.emptyMs = Number.POSITIVE_INFINITY;
  if (atMs < charge.lookMs) return;
  const { worst, prices, lowAfter: low } = charge;
  // All of the first day's loss counts as gone.
  const since = { sinceMs: atMs - charge.fullMs, firstDayMs: dayMs };
  const gone = goneSince(charge, actsUpTo(charge, tally, atMs), since);
  // Up to the charge at which it is low, and from there on up to none.
  const level = charge.isLow || low === null || low > prices.usable ? prices.usable : low;
  const safe = Number(level - gone) - 2 * worst.wake - worst.send;
  const safeMs = worst.perMs > 0 ? safe / worst.perMs : safe > 0 ? Number.POSITIVE_INFINITY : 0;
  charge.lookMs =
    Math.min(atMs + Math.floor(safeMs), nextChargeMs(charge)) - Math.ceil(worst.wakeMs);
  charge.careful = atMs >= charge.lookMs;
}

/** At a check that is priced, with the totals complete up to it: whether the battery is low from here on. */
export function looksLow(charge: Charge, tally: RunningTally, atMs: number): void {
  if (charge.isLow || charge.lowAfter === null) return;
  if (drained(charge, actsUpTo(charge, tally, atMs), atMs) < charge.lowAfter) return;
  charge.isLow = true;
  charge.lookMs = Number.NEGATIVE_INFINITY;
}

/** A low-battery message was delivered: by the first since the last charge somebody knows when to come. */
export function isWarned(charge: Charge, atMs: number): void {
  if (charge.afterWarningMs === null || charge.answeredMs < Number.POSITIVE_INFINITY) return;
  const comesMs = atMs + charge.afterWarningMs;
  if (comesMs >= charge.lengthMs || !charge.isWarningSeen(atMs)) return;
  charge.answeredMs = comesMs;
  charge.lookMs = Number.NEGATIVE_INFINITY;
  // They may come before the next wake.
  charge.careful = true;
}

/** Something was done that quiet wakes do not do: the charge is sure to last for less. */
export function lookSooner(charge: Charge, cost: number): void {
  if (cost === 0) return;
  const { perMs } = charge.worst;
  charge.lookMs = perMs > 0 ? charge.lookMs - Math.ceil(cost / perMs) : Number.NEGATIVE_INFINITY;
}

/**
 * Lets a stage pass up to its end, with the charges that fall into it.
 * @returns the first millisecond after its beginning, up to its end, at which the charge is used up; Infinity: none.
 */
export function passes(charge: Charge, tally: RunningTally, stage: Stage): number {
  const { prices } = charge;
  let fromMs = stage.fromMs;
  let acts = actsUpTo(charge, tally, fromMs);
  let atOnce = stage.atOnce ?? 0n;
  for (;;) {
    const startMs = fromMs;
    const before = acts + atOnce;
    const actsAt = (atMs: number): bigint => {
      const bias = stage.isOn ? BigInt(charge.shutMs(startMs, atMs)) * prices.biasPerMs : 0n;
      return before + BigInt(atMs - startMs) * stage.perMs + bias;
    };
    const goneAt = (atMs: number): bigint => drained(charge, actsAt(atMs), atMs);
    const chargeMs = nextChargeMs(charge);
    const lastMs = chargeMs <= stage.toMs ? chargeMs - 1 : stage.toMs;
    const { usable } = prices;
    if (lastMs > startMs && goneAt(lastMs) >= usable) {
      return firstEmpty(goneAt, { afterMs: startMs, emptyMs: lastMs, usable });
    }
    if (chargeMs > stage.toMs) return Number.POSITIVE_INFINITY;
    acts = actsAt(chargeMs);
    fill(charge, acts, chargeMs);
    fromMs = chargeMs;
    atOnce = 0n;
  }
}

/** The first instant after one at which nothing is left, where at a later one nothing is. */
function firstEmpty(
  goneAt: (atMs: number) => bigint,
  { afterMs, emptyMs, usable }: { afterMs: number; emptyMs: number; readonly usable: bigint },
): number {
  let low = afterMs;
  let high = emptyMs;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (goneAt(middle) >= usable) high = middle;
    else low = middle;
  }
  return high;
}

function fill(charge: Charge, acts: bigint, atMs: number): void {
  const { usable } = charge.prices;
  const gone = drained(charge, acts, atMs);
  const left = gone >= usable ? 0n : usable - gone;
  charge.charges.push({ atMs, leftPpm: Number((left * 1_000_000n) / usable) });
  if (charge.plannedMs[charge.planned] === atMs) charge.planned += 1;
  charge.answeredMs = Number.POSITIVE_INFINITY;
  if (charge.silenceMs <= atMs) charge.silenceMs = Number.POSITIVE_INFINITY;
  charge.isLow = false;
  charge.fullMs = atMs;
  charge.actsAtFull = acts;
  charge.lookMs = Number.NEGATIVE_INFINITY;
}

/** An off device: the instant at which it went off, and when power returns; of an empty one, the same instant. */
interface Off {
  readonly atMs: number;
  readonly powerBackMs: number;
  readonly isFlat: boolean;
}

/** When an off device boots, charged and with power; Infinity: not within the timeline. */
export function offUntil(charge: Charge, tally: RunningTally, off: Off): number {
  const acts = actsUpTo(charge, tally, off.atMs);
  const { usable } = charge.prices;
  const goneAt = (atMs: number): bigint => drained(charge, acts, atMs);
  let { atMs, powerBackMs, isFlat } = off;
  for (;;) {
    const chargeMs = nextChargeMs(charge);
    if (isFlat) {
      const toMs = Math.min(chargeMs, charge.lengthMs);
      charge.flat.push({ fromMs: atMs, toMs });
      if (chargeMs >= charge.lengthMs) return Number.POSITIVE_INFINITY;
    } else {
      const lastMs = Math.min(powerBackMs, chargeMs - 1, charge.lengthMs);
      if (goneAt(lastMs) >= usable) {
        atMs = firstEmpty(goneAt, { afterMs: atMs, emptyMs: lastMs, usable });
        if (atMs >= charge.lengthMs) return Number.POSITIVE_INFINITY;
        isFlat = true;
        continue;
      }
      if (chargeMs > powerBackMs || chargeMs >= charge.lengthMs) return powerBackMs;
    }
    fill(charge, acts, chargeMs);
    atMs = chargeMs;
    isFlat = false;
    powerBackMs = charge.powerLost.toMs[spanAt(charge.powerLost, atMs)] ?? atMs;
  }
}
