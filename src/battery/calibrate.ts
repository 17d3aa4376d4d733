// From lives that somebody measured back to what explains them. One life: everything else is counted, so what is left over
// must go asleep; or, at the other extreme, into the wakes. Two lives at different check intervals are two equations in two
// unknowns, the current asleep and the charge of a wake.
import { availablePc, firstDayPc, type MeasuredLife, type SupplySettings } from '../model/index.js';
import { lifeMs } from './life.js';
import { sleepMsOf, spend } from './spending.js';
import type { Use } from './use.js';

export interface Explained {
  readonly kind: 'explained';
  readonly sleepNa: number;
  /** The charge of a wake; null: as the watch file says. */
  readonly wakePc: number | null;
  /** The supply with the measured capacity, and with what was found. */
  readonly supply: SupplySettings;
}

/** Even a device that draws nothing asleep would be flat sooner: after `longestMs` (null: no end in sight). */
export interface Unexplained {
  readonly kind: 'unexplained';
  readonly longestMs: number | null;
}

/** Two lives that need a current or a charge below 0; null: of intervals that are too alike to separate sleep from wakes. */
export interface Contradicting {
  readonly kind: 'contradicting';
  readonly sleepNa: number | null;
  readonly wakePc: number | null;
}

export type Calibration = Explained | Unexplained | Contradicting;

const dayMs = 86_400_000n;

/** @param use what the device did in that life, as a sample of any length. `measured.lifeMs` is more than 0. */
export function calibrate(
  measured: MeasuredLife,
  use: Use,
  supply: SupplySettings,
): Explained | Unexplained {
  const awake = { ...supply, capacityNah: measured.capacityNah, sleepNa: 0 };
  const spentAwake = spend(use, awake);
  const lived = BigInt(measured.lifeMs);
  const lengthMs = BigInt(use.lengthMs);
  // A life within the first day has seen its part of the first day's loss.
  const lostEarly = lived < dayMs ? (firstDayPc(awake) * lived) / dayMs : firstDayPc(awake);
  const spentPc = ((availablePc(awake) - lostEarly) * lengthMs) / lived;
  const asleepPc = spentPc - spentAwake.totalPc;
  const sleepMs = BigInt(sleepMsOf(use));
  if (asleepPc < 0n || sleepMs === 0n) {
    return { kind: 'unexplained', longestMs: lifeMs(spentAwake, awake) };
  }
  // Rounded down, as below: so no life that was measured reads shorter than it was.
  const sleepNa = Number(asleepPc / sleepMs);
  return { kind: 'explained', sleepNa, wakePc: null, supply: { ...awake, sleepNa } };
}

/** A life that was measured, with what the device did in it. */
export interface LifeWithUse {
  readonly measured: MeasuredLife;
  readonly use: Use;
}

/** What the battery gave in a use, in pC, without what goes otherwise than asleep or at wakes. */
function leftPc({ measured, use }: LifeWithUse, supply: SupplySettings): number {
  const bare = { ...supply, capacityNah: measured.capacityNah, sleepNa: 0, boot: noWake };
  const lived = BigInt(measured.lifeMs);
  const lostEarly = lived < dayMs ? (firstDayPc(bare) * lived) / dayMs : firstDayPc(bare);
  const spentPc = ((availablePc(bare) - lostEarly) * BigInt(use.lengthMs)) / lived;
  return Number(spentPc - spend(use, bare).totalPc);
}

const noWake = { kind: 'charge', chargePc: 0 } as const;

/** Of one life: all of what is left over asleep, or all of it at the wakes. Null: nothing is left over. */
export function extremesOf(
  life: LifeWithUse,
  supply: SupplySettings,
): { readonly asleep: SupplySettings; readonly wakes: SupplySettings } | null {
  const left = leftPc(life, supply);
  const { capacityNah } = life.measured;
  if (left < 0 || life.use.boots.count === 0 || sleepMsOf(life.use) === 0) return null;
  const sleepNa = Math.floor(left / sleepMsOf(life.use));
  const chargePc = Math.floor(left / life.use.boots.count);
  return {
    asleep: { ...supply, capacityNah, sleepNa, boot: noWake },
    wakes: { ...supply, capacityNah, sleepNa: 0, boot: { kind: 'charge', chargePc } },
  };
}

/** The current asleep and the charge of a wake that explain both lives. */
export function separate(
  one: LifeWithUse,
  other: LifeWithUse,
  supply: SupplySettings,
): Explained | Contradicting {
  const [a, b] = [sleepMsOf(one.use) / one.use.lengthMs, one.use.boots.count / one.use.lengthMs];
  const [c, d] = [
    sleepMsOf(other.use) / other.use.lengthMs,
    other.use.boots.count / other.use.lengthMs,
  ];
  const [p, q] = [
    leftPc(one, supply) / one.use.lengthMs,
    leftPc(other, supply) / other.use.lengthMs,
  ];
  const determinant = a * d - b * c;
  if (Math.abs(determinant) < leastDifference * Math.max(a * d, b * c)) {
    return { kind: 'contradicting', sleepNa: null, wakePc: null };
  }
  const sleepNa = (p * d - b * q) / determinant;
  const wakePc = (a * q - p * c) / determinant;
  if (sleepNa < 0 || wakePc < 0) return { kind: 'contradicting', sleepNa, wakePc };
  const [asleep, chargePc] = [Math.floor(sleepNa), Math.floor(wakePc)];
  const found = {
    ...supply,
    capacityNah: one.measured.capacityNah,
    sleepNa: asleep,
    boot: { kind: 'charge', chargePc } as const,
  };
  return { kind: 'explained', sleepNa: asleep, wakePc: chargePc, supply: found };
}

/** Intervals this near to each other do not separate sleep from wakes. */
const leastDifference = 0.05;

/** A supply with what a measured life found of it; the capacity stays the file's. */
export function asMeasured(supply: SupplySettings, found: Calibration | null): SupplySettings {
  if (found?.kind !== 'explained') return supply;
  const { sleepNa, wakePc } = found;
  const measured = ['sleepCurrent', ...(wakePc === null ? [] : ['boot'])];
  const { preset } = supply;
  return {
    ...supply,
    sleepNa,
    boot: wakePc === null ? supply.boot : { kind: 'charge', chargePc: wakePc },
    preset:
      preset === null
        ? null
        : { ...preset, filled: preset.filled.filter((key) => !measured.includes(key)) },
  };
}
