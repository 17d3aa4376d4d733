// Arithmetic of charges and currents in whole numbers.
import { pcPerNah } from '../model/index.js';

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
