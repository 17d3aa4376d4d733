// What a run's activities take from its supply, in grains: one pC is 720 million of them, so that the self-discharge of one
// nAh in a millisecond is a whole number as well.
import { cellAt, greatestOf, leastOf } from '../base/index.js';
import type { LowBatteryLevel } from '../machine/index.js';
import {
  type ActPrice,
  actPrice,
  availablePc,
  biasFromCellsNa,
  givenPc,
  holdNa,
  joinWaitNa,
  mostLeftAt,
  nominalSleeps,
  type SupplySettings,
} from '../model/index.js';
import {
  type ContactEdges,
  clockErrorRangeOf,
  type DeviceTiming,
  firstAfter,
  rangeMsOf,
} from '../world/index.js';
import type { Program } from './experiment.js';

/** The self-discharge of 1 ppm in 30 days takes one grain from each nAh in a millisecond; in a day, thirty. */
const grainsPerPc = 720_000_000n;
const daysOfMonth = 30n;

export interface Prices {
  /** What a full charge has for the device. */
  readonly usable: bigint;
  readonly sleepPerMs: bigint;
  readonly holdPerMs: bigint;
  readonly boot: ActPrice;
  readonly blink: bigint;
  readonly connect: ActPrice;
  readonly failedAttempt: ActPrice;
  readonly heartbeat: ActPrice;
  /** Awake, waiting for the network. */
  readonly waitPerMs: bigint;
  /** Through the closed contact, always. */
  readonly biasPerMs: bigint;
  /** Through the closed contact, from a wake to a check that reads shut. */
  readonly biasPerBootMs: bigint;
  readonly selfPerMs: bigint;
  /** Besides, within a day of a charge. */
  readonly firstDayPerMs: bigint;
}

export function pricesOf(supply: SupplySettings): Prices {
  const grains = (na: number): bigint => BigInt(na) * grainsPerPc;
  const act = (...draw: Parameters<typeof actPrice>): ActPrice => {
    const { eachPc, whileNa } = actPrice(...draw);
    return { eachPc: eachPc * grainsPerPc, whileNa: whileNa * grainsPerPc };
  };
  const { contactBias, selfDischarge } = supply;
  const bias = contactBias === null ? 0n : grains(biasFromCellsNa(contactBias, supply));
  const capacity = BigInt(supply.capacityNah);
  const perMonth = BigInt(selfDischarge.perMonthPpm + selfDischarge.protectionPerMonthPpm);
  return {
    usable: availablePc(supply) * grainsPerPc,
    sleepPerMs: grains(supply.sleepNa),
    holdPerMs: grains(holdNa(supply)),
    boot: act(supply.boot),
    blink: act(supply.blink).eachPc,
    connect: act(supply.connect),
    failedAttempt: act(supply.failedAttempt),
    heartbeat: act(supply.heartbeat),
    waitPerMs: grains(joinWaitNa(supply)),
    biasPerMs: contactBias?.powered === 'always' ? bias : 0n,
    biasPerBootMs: contactBias?.powered === 'check-only' ? bias : 0n,
    selfPerMs: capacity * perMonth,
    firstDayPerMs: capacity * BigInt(selfDischarge.firstDayPpm) * daysOfMonth,
  };
}

/**
 * How much has gone, at the least, from a battery that is low; null: nothing says which charge that is, or no charge is. What is left
 * on the curve counts with the charge that the device cannot use, but without what the cold holds back.
 */
export function lowAfter(supply: SupplySettings, level: LowBatteryLevel): bigint | null {
  if (level.kind === 'share') {
    const available = availablePc(supply) * grainsPerPc;
    return available - (available * BigInt(level.sharePpm)) / 1_000_000n;
  }
  const curve = supply.voltageCurve;
  if (curve === null) return null;
  const full = givenPc(supply) * grainsPerPc;
  const left = mostLeftAt(curve, level.voltageMv, full);
  return left === null ? null : full - left;
}

/** What is left to use when the battery becomes low, in pC; null: it never does, or only with the last of the usable charge. */
export function leftWhenLowPc(supply: SupplySettings, level: LowBatteryLevel): bigint | null {
  const gone = lowAfter(supply, level);
  const usable = availablePc(supply) * grainsPerPc;
  return gone === null || gone >= usable ? null : (usable - gone) / grainsPerPc;
}

/** The most that can go, in grains as floating-point numbers: only ever used to decide how far not to look. Sleeps are rounded outwards. */
export interface WorstSpending {
  /** Each millisecond of a device that only looks and sleeps, woken by its timer. */
  readonly perMs: number;
  /** One more wake, and one send. */
  readonly wake: number;
  readonly send: number;
  /** The longest time from a wake to the end of the sleep after it. */
  readonly wakeMs: number;
}

export function worstSpending(
  prices: Prices,
  { watch }: Program,
  timing: DeviceTiming,
): WorstSpending {
  const boot = rangeMsOf(timing.bootTime);
  const connect = rangeMsOf(timing.connectTime);
  const { joinWaitMs } = timing;
  const error = clockErrorRangeOf(timing.clockError);
  const nominal = nominalSleeps(watch);
  const given = timing.clockError.kind === 'sleeps' ? timing.clockError.ms : [];
  const longestMs = greatestOf([...nominal.map((ms) => ms * (1 + error.most / 1e6)), ...given]);
  const shortestMs = leastOf([...nominal.map((ms) => ms * (1 + error.least / 1e6)), ...given]);
  const cost = ({ eachPc, whileNa }: ActPrice, ms: number): number =>
    Number(eachPc) + Number(whileNa) * ms;
  const wake =
    cost(prices.boot, boot.most) + Number(prices.blink) + Number(prices.biasPerBootMs) * boot.most;
  const sends = [prices.connect, prices.failedAttempt, prices.heartbeat];
  return {
    perMs:
      Number(prices.sleepPerMs + prices.biasPerMs + prices.selfPerMs) +
      wake / Math.max(1, boot.least + Math.floor(shortestMs)),
    wake,
    send:
      greatestOf(sends.map((price) => cost(price, connect.most))) +
      Number(prices.waitPerMs) * joinWaitMs,
    wakeMs: boot.most + connect.most + joinWaitMs + Math.ceil(longestMs),
  };
}

/** How long the contact is closed from one instant to another: of two sums, so that a long door costs no more. */
export function shutTime(edges: ContactEdges): (fromMs: number, toMs: number) => number {
  const openBefore = new Float64Array((edges.length >>> 1) + 1);
  for (let pair = 1; pair < openBefore.length; pair += 1) {
    const lasted = cellAt(edges, pair * 2 - 1) - cellAt(edges, pair * 2 - 2);
    openBefore[pair] = cellAt(openBefore, pair - 1) + lasted;
  }
  const openUpTo = (atMs: number): number => {
    const passed = firstAfter(edges, atMs);
    const whole = cellAt(openBefore, passed >>> 1);
    return (passed & 1) === 1 ? whole + atMs - cellAt(edges, passed - 1) : whole;
  };
  return (fromMs, toMs) => toMs - fromMs - (openUpTo(toMs) - openUpTo(fromMs));
}
