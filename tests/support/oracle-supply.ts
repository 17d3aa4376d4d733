// The supply of the naive interpreter: one stretch of time after the other, each priced in exact fractions of a pC. It shares no
// code with the run that drains its supply.
import type { ActivityDraw, ChargePlan } from '../../src/model/index.js';
import type { ChargeRecord } from '../../src/sim/index.js';
import type { World } from '../../src/world/index.js';

/** Fractions of a pC: self-discharge is in millionths of the capacity in 30 days. */
const whole = 2_592_000_000n * 1_000_000n;
const dayMs = 86_400_000;
const never = Number.POSITIVE_INFINITY;

import type { LowBatteryLevel } from '../../src/machine/index.js';

export type OracleAct = 'boot' | 'connect' | 'failedAttempt' | 'heartbeat';

export interface OracleStretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly act: OracleAct | 'asleep' | 'held' | 'joinWait';
  /** A boot before a check that reads shut. */
  readonly readsShut?: boolean;
}

export interface OracleSupply {
  readonly flat: { fromMs: number; toMs: number }[];
  readonly charges: ChargeRecord[];
  powerOn(atMs: number): void;
  /** Lets time pass; gives the first millisecond without charge, or Infinity. */
  pass(stretch: OracleStretch): number;
  /** What the blink takes. */
  blink(): bigint;
  /** Whether the battery is low at this instant. @param later what was taken at this very instant. */
  isLow(level: LowBatteryLevel, atMs: number, later: bigint): boolean;
  /** Somebody learns that it is. */
  warned(atMs: number): void;
  /** Off from `atMs`, flat or without power until `backMs`: when it boots. */
  off(atMs: number, backMs: number, flat: boolean): number;
}

export function oracleSupply(plan: ChargePlan | null, world: World): OracleSupply | null {
  if (plan === null) return null;
  const { supply, charging } = plan;
  const { lengthMs } = world;
  const flat: { fromMs: number; toMs: number }[] = [];
  const charges: ChargeRecord[] = [];
  const capacity = BigInt(supply.capacityNah) * 3_600_000n;
  const share = BigInt(supply.usablePpm) * BigInt(supply.derating?.sharePpm ?? 1_000_000);
  const usable = ((capacity * share) / 1_000_000_000_000n) * whole;
  const { perMonthPpm, protectionPerMonthPpm, firstDayPpm } = supply.selfDischarge;
  let fullMs = 0;
  let taken = 0n;
  let firstMs = 0;
  let askedMs = never;

  const currentOf = (draw: ActivityDraw | null): number =>
    draw?.kind === 'current' && draw.timeMs === null ? draw.currentNa : 0;
  const chargeOf = (draw: ActivityDraw | null): number => {
    if (draw === null) return 0;
    if (draw.kind === 'charge') return draw.chargePc;
    return draw.timeMs === null ? 0 : draw.currentNa * draw.timeMs;
  };
  const bias = supply.contactBias;
  const throughContact =
    bias === null ? 0 : Math.round((bias.voltageMv * 1e6) / bias.resistanceOhm);
  const biasNa = givenByCells(throughContact);
  const holding = supply.hold ?? supply.boot;

  /**
   * A pull-up is a load on the regulator: input current = output voltage × current ÷ (input voltage × efficiency), the voltages of
   * the cells as in docs/battery.md: 1.25 V an alkaline, 3.65 V a lithium-ion, 2.9 V a lithium manganese cell.
   */
  function givenByCells(na: number): number {
    const { cells } = supply;
    const regulator = cells?.regulator;
    if (cells === undefined || regulator === null || regulator === undefined) return na;
    if (regulator.kind === 'linear') return na;
    const millivolts = { 'alkaline-aa': 1250, 'li-ion-18650': 3650, 'lithium-coin': 2900 }[
      cells.name
    ];
    if (millivolts === undefined) throw new Error(`the oracle does not know a cell ${cells.name}`);
    const out = BigInt(regulator.outputMv) * BigInt(na) * 1_000_000n;
    const into = BigInt(millivolts * cells.series) * BigInt(regulator.efficiencyPpm ?? 0);
    const below = out / into;
    return Number((out - below * into) * 2n < into ? below : below + 1n);
  }

  function nextChargeAfter(atMs: number): number {
    // Somebody who was asked for a charge comes no sooner than now.
    let next = askedMs;
    for (const chargedMs of world.chargedMs ?? [])
      if (chargedMs > atMs) next = Math.min(next, chargedMs);
    if (charging.everyMs !== null) {
      const times = Math.floor((atMs - firstMs) / charging.everyMs) + 1;
      next = Math.min(next, firstMs + times * charging.everyMs);
    }
    return next < lengthMs ? next : never;
  }

  function shutWithin(fromMs: number, toMs: number): number {
    let shut = 0;
    let at = fromMs;
    let closed = [...world.contact].filter((edge) => edge <= fromMs).length % 2 === 0;
    for (const edge of [...world.contact, never]) {
      if (edge <= fromMs) continue;
      const until = Math.min(edge, toMs);
      if (closed) shut += until - at;
      at = until;
      closed = !closed;
      if (edge >= toMs) break;
    }
    return shut;
  }

  function selfDischarged(atMs: number): bigint {
    const since = atMs - fullMs;
    return (
      capacity * BigInt(perMonthPpm + protectionPerMonthPpm) * BigInt(since) +
      capacity * BigInt(firstDayPpm) * 30n * BigInt(Math.min(since, dayMs))
    );
  }

  function takenBy({ act, fromMs, readsShut = false }: OracleStretch, toMs: number): bigint {
    const forMs = BigInt(toMs - fromMs);
    let na = 0;
    if (act === 'asleep') na = supply.sleepNa;
    else if (act === 'held') na = holding?.kind === 'current' ? holding.currentNa : 0;
    else if (act === 'joinWait') {
      na = currentOf(supply.failedAttempt);
      const plain = supply.failedAttempt;
      const lasts = plain?.kind === 'current' && plain.timeMs === null;
      if (!lasts) na = holding?.kind === 'current' ? holding.currentNa : 0;
    } else na = currentOf(supply[act]);
    let sum = BigInt(na) * forMs;
    if (bias?.powered === 'always') sum += BigInt(biasNa) * BigInt(shutWithin(fromMs, toMs));
    if (bias?.powered === 'check-only' && act === 'boot' && readsShut)
      sum += BigInt(biasNa) * forMs;
    return sum * whole;
  }

  /** The first instant of a stretch, after its beginning, at which nothing is left. */
  function firstEmpty(fromMs: number, toMs: number, goneAt: (atMs: number) => bigint): number {
    if (toMs <= fromMs || goneAt(toMs) < usable) return never;
    let [before, at] = [fromMs, toMs];
    while (at > before + 1) {
      const middle = before + Math.floor((at - before) / 2);
      if (goneAt(middle) < usable) before = middle;
      else at = middle;
    }
    return at;
  }

  function charge(atMs: number): void {
    const gone = taken + selfDischarged(atMs);
    const left = gone > usable ? 0n : usable - gone;
    charges.push({ atMs, leftPpm: Number((left * 1_000_000n) / usable) });
    fullMs = atMs;
    taken = 0n;
    askedMs = never;
  }

  return {
    flat,
    charges,
    powerOn(atMs) {
      firstMs = atMs;
      fullMs = atMs;
    },
    blink() {
      const blink = BigInt(chargeOf(supply.blink)) * whole;
      taken += blink;
      return blink;
    },
    isLow(level, atMs, later) {
      const gone = taken - later + selfDischarged(atMs);
      if (level.kind === 'share') {
        return (usable - gone) * 1_000_000n <= usable * BigInt(level.sharePpm);
      }
      const curve = supply.voltageCurve ?? [];
      if (curve.length === 0) return false;
      // The voltage at this charge as a fraction; a battery without a drop left stands at the first point.
      // The cold squeezes the curve: its whole width is what the cold leaves.
      const full =
        ((capacity * BigInt(supply.derating?.sharePpm ?? 1_000_000)) / 1_000_000n) * whole;
      const left = full > gone ? full - gone : 0n;
      const at = (ppm: number): bigint => full * BigInt(ppm);
      const above = curve.find(({ leftPpm }) => at(leftPpm) >= left * 1_000_000n);
      const below = curve.findLast(({ leftPpm }) => at(leftPpm) <= left * 1_000_000n);
      const one = below ?? curve[0];
      const other = above ?? curve.at(-1);
      if (one === undefined || other === undefined) return false;
      if (one.leftPpm === other.leftPpm || below === undefined || above === undefined) {
        return (below ?? other).voltageMv <= level.voltageMv;
      }
      const width = at(other.leftPpm) - at(one.leftPpm);
      const rise = BigInt(other.voltageMv - one.voltageMv) * (left * 1_000_000n - at(one.leftPpm));
      return BigInt(one.voltageMv) * width + rise <= BigInt(level.voltageMv) * width;
    },
    warned(atMs) {
      if (charging.afterWarningMs !== undefined && askedMs === never) {
        askedMs = atMs + charging.afterWarningMs;
      }
    },
    pass(stretch) {
      const { act } = stretch;
      let at = stretch.fromMs;
      if (act !== 'asleep' && act !== 'held' && act !== 'joinWait')
        taken += BigInt(chargeOf(supply[act])) * whole;
      for (;;) {
        const chargedMs = nextChargeAfter(at);
        const part = { ...stretch, fromMs: at };
        const base = taken;
        const goneAt = (ms: number): bigint => base + takenBy(part, ms) + selfDischarged(ms);
        const empty = firstEmpty(at, Math.min(stretch.toMs, chargedMs - 1), goneAt);
        const until = Math.min(empty, chargedMs, stretch.toMs);
        taken = base + takenBy(part, until);
        if (empty < never) return empty;
        if (chargedMs > stretch.toMs) return never;
        charge(chargedMs);
        at = chargedMs;
      }
    },
    off(atMs, backMs, isFlat) {
      let at = atMs;
      let back = backMs;
      let empty = isFlat;
      for (;;) {
        const chargedMs = nextChargeAfter(at);
        if (empty) {
          flat.push({ fromMs: at, toMs: Math.min(chargedMs, lengthMs) });
          if (chargedMs === never) return never;
          charge(chargedMs);
          at = chargedMs;
          empty = false;
          const dark = Array.from(world.powerLost.toMs).find(
            (to, index) => (world.powerLost.fromMs[index] ?? 0) <= at && at < to,
          );
          if (at >= back) back = dark ?? at;
          continue;
        }
        const base = taken;
        const gone = (ms: number): bigint => base + selfDischarged(ms);
        const emptyMs = firstEmpty(at, Math.min(back, chargedMs - 1, lengthMs), gone);
        if (emptyMs < lengthMs) {
          at = emptyMs;
          empty = true;
        } else if (emptyMs === lengthMs || chargedMs === never || chargedMs > back) {
          return emptyMs === lengthMs ? never : back;
        } else {
          charge(chargedMs);
          at = chargedMs;
        }
      }
    },
  };
}
