// Where the charge goes: every activity of a use, priced by a supply. Charges are whole pC and exact; what is
// shown of them is rounded once, when it is shown.

import { invariant } from '../base/index.js';
import {
  type ActivityDraw,
  biasFromCellsNa,
  holdNa,
  joinWaitNa,
  pcPerNah,
  type SupplySettings,
  selfDischargeMonthMs,
} from '../model/index.js';
import { divided, million } from './amounts.js';
import type { Acts, Use } from './use.js';

export const activities = [
  'sleep',
  'boot',
  'blink',
  'connect',
  'failedAttempt',
  'heartbeat',
  'joinWait',
  'hold',
  'contactBias',
  'selfDischarge',
] as const;
export type Activity = (typeof activities)[number];

/** What one activity took. */
export interface SpendingPart {
  readonly activity: Activity;
  /** How often; null: it is no act but a state. */
  readonly count: number | null;
  readonly timeMs: number;
  readonly chargePc: bigint;
}

export interface Spending {
  readonly lengthMs: number;
  /** In the order of `activities`, those that took nothing included. */
  readonly parts: readonly SpendingPart[];
  readonly totalPc: bigint;
}

/** Prices a use. */
export function spend(use: Use, supply: SupplySettings): Spending {
  const parts = [
    state('sleep', sleepMsOf(use), supply.sleepNa),
    acts('boot', use.boots, supply.boot),
    acts('blink', { count: use.openChecks, ms: 0 }, supply.blink),
    acts('connect', use.sends, supply.connect),
    acts('failedAttempt', use.failedSends, supply.failedAttempt),
    acts('heartbeat', use.heartbeats, supply.heartbeat),
    state('joinWait', use.waitMs, joinWaitNa(supply)),
    held(use.heldMs, supply),
    contactPart(use, supply),
    selfDischargePart(use.lengthMs, supply),
  ];
  const totalPc = parts.reduce((sum, { chargePc }) => sum + chargePc, 0n);
  return { lengthMs: use.lengthMs, parts, totalPc };
}

/** How long the device sleeps in a use. */
export function sleepMsOf(use: Use): number {
  const sends = use.sends.ms + use.failedSends.ms + use.heartbeats.ms + use.waitMs;
  const awake = use.boots.ms + sends + use.heldMs;
  const sleepMs = use.lengthMs - use.offMs - awake;
  invariant(sleepMs >= 0, 'a device is not awake for longer than there is time', { use });
  return sleepMs;
}

function state(activity: Activity, timeMs: number, currentNa: number): SpendingPart {
  return { activity, count: null, timeMs, chargePc: times(timeMs, currentNa) };
}

function acts(activity: Activity, { count, ms }: Acts, draw: ActivityDraw | null): SpendingPart {
  if (draw === null) return { activity, count, timeMs: ms, chargePc: 0n };
  if (draw.kind === 'charge') {
    return { activity, count, timeMs: ms, chargePc: times(count, draw.chargePc) };
  }
  const timeMs = draw.timeMs === null ? ms : count * draw.timeMs;
  return { activity, count, timeMs, chargePc: times(timeMs, draw.currentNa) };
}

function held(heldMs: number, supply: SupplySettings): SpendingPart {
  return state('hold', heldMs, holdNa(supply));
}

function contactPart(use: Use, supply: SupplySettings): SpendingPart {
  const { contactBias } = supply;
  if (contactBias === null) return state('contactBias', 0, 0);
  return contactSpending(use, biasFromCellsNa(contactBias, supply), contactBias.powered);
}

/** What a pull-up takes for which the cells give this current, wired the one way or the other. */
export function contactSpending(
  use: Use,
  currentNa: number,
  powered: 'always' | 'check-only',
): SpendingPart {
  if (powered === 'always') return state('contactBias', use.contactShutMs, currentNa);
  // Powered for the check, it conducts from a wake to a check that reads shut.
  return state('contactBias', Math.round(use.shutBootMs), currentNa);
}

function selfDischargePart(lengthMs: number, supply: SupplySettings): SpendingPart {
  const { perMonthPpm, protectionPerMonthPpm } = supply.selfDischarge;
  const ppmPerMonth = BigInt(perMonthPpm + protectionPerMonthPpm);
  const capacityPc = BigInt(supply.capacityNah) * pcPerNah;
  const chargePc = divided(
    capacityPc * ppmPerMonth * BigInt(Math.round(lengthMs)),
    million * selfDischargeMonthMs,
  );
  return { activity: 'selfDischarge', count: null, timeMs: lengthMs, chargePc };
}

function times(count: number, each: number): bigint {
  return BigInt(Math.round(count)) * BigInt(each);
}

/** The mean current of a spending in whole nA. */
export function meanNa({ totalPc, lengthMs }: Spending): number {
  return lengthMs === 0 ? 0 : Number(divided(totalPc, BigInt(lengthMs)));
}
