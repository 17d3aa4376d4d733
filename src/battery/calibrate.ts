// From a life that somebody measured back to the sleep current that explains it: everything else is counted, so
// what is left over must go asleep.
import { availablePc, firstDayPc, type MeasuredLife, type SupplySettings } from '../model/index.js';
import { divided } from './amounts.js';
import { lifeMs } from './life.js';
import { sleepMsOf, spend } from './spending.js';
import type { Use } from './use.js';

export type Calibration =
  | {
      readonly kind: 'explained';
      readonly sleepNa: number;
      /** The supply with the measured capacity and that sleep current. */
      readonly supply: SupplySettings;
    }
  /** Even a device that draws nothing asleep would be flat sooner: after `longestMs` (null: no end in sight). */
  | { readonly kind: 'unexplained'; readonly longestMs: number | null };

const dayMs = 86_400_000n;

/** @param use what the device did in that life, as a sample of any length. `measured.lifeMs` is more than 0. */
export function calibrate(measured: MeasuredLife, use: Use, supply: SupplySettings): Calibration {
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
  const sleepNa = Number(divided(asleepPc, sleepMs));
  return { kind: 'explained', sleepNa, supply: { ...awake, sleepNa } };
}
