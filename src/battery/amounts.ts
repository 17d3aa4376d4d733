// Arithmetic of charges and currents in whole numbers.
import type { ContactBias } from '../model/index.js';

/** pC in one nAh: seconds an hour times milliseconds a second. */
export const pcPerNah = 3_600_000n;

export const million = 1_000_000n;

/** The whole nAh nearest to a charge in pC, a half up: the one rounding of a charge. */
export function nahOf(chargePc: bigint): number {
  return Number(divided(chargePc, pcPerNah));
}

/** The whole number nearest to a quotient of whole numbers, a half up. `over` is more than 0. */
export function divided(value: bigint, over: bigint): bigint {
  const doubled = 2n * value + over;
  const quotient = doubled / (2n * over);
  return doubled < 0n && doubled % (2n * over) !== 0n ? quotient - 1n : quotient;
}

/** What flows through a closed contact: V over R, to the nearest whole nA. 3.3 V over 45 kΩ is 73,333 nA. */
export function biasNa({ voltageMv, resistanceOhm }: ContactBias): number {
  return Math.round((voltageMv * 1_000_000) / resistanceOhm);
}
