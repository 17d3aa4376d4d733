// The voltage of a battery at rest by what is left in it: the one place that knows. Its curve is of the charge that the battery gives
// at its temperature, from a full charge down to the end voltage: in the cold it reaches that voltage with charge still in it, so
// the curve is squeezed into what the cold leaves, and what the cold holds back is not on it. That is common practice, no source.
// The resistance stays as it is at 20 °C.
import { itemAt } from '../base/index.js';
import { availablePc, pcPerNah } from './charge.js';
import type { SupplySettings, VoltagePoint } from './supply.js';

const million = 1_000_000n;

/** What a full charge gives at its temperature down to the end voltage, in pC: the whole width of the curve. */
export function givenPc({ capacityNah, derating }: SupplySettings): bigint {
  return (BigInt(capacityNah) * pcPerNah * BigInt(derating?.sharePpm ?? 1_000_000)) / million;
}

/** Linear between the points, rounded up to whole mV; beyond the ends the end values hold. */
function voltageAtLeft(curve: readonly VoltagePoint[], leftPpm: number): number {
  let below = curve[0];
  for (const point of curve) {
    if (point.leftPpm >= leftPpm) {
      if (below === undefined || below === point) return point.voltageMv;
      const rise = BigInt(point.voltageMv - below.voltageMv) * BigInt(leftPpm - below.leftPpm);
      const run = BigInt(point.leftPpm - below.leftPpm);
      return below.voltageMv + Number((rise + run - 1n) / run);
    }
    below = point;
  }
  return below?.voltageMv ?? 0;
}

/** At rest, with this much left of the charge that the device can use, rounded up; null: nothing says so. */
export function voltageAtUsablePc(supply: SupplySettings, usablePc: bigint): number | null {
  const { voltageCurve } = supply;
  if (voltageCurve === null) return null;
  const given = givenPc(supply);
  const left = given - availablePc(supply) + usablePc;
  return voltageAtLeft(voltageCurve, Number((left * million + given - 1n) / given));
}

/**
 * The most that can be left while the voltage is no more than this; null: it is always more.
 * @param full the width of the curve; what is left counts in its unit.
 */
export function mostLeftAt(
  curve: readonly VoltagePoint[],
  voltageMv: number,
  full: bigint,
): bigint | null {
  const above = curve.findIndex((point) => point.voltageMv > voltageMv);
  // Beyond the last point the voltage stays as it is there.
  if (above < 0) return full;
  const [below, point] = [curve[above - 1], itemAt(curve, above)];
  if (below === undefined) return null;
  const rise = BigInt(point.voltageMv - below.voltageMv);
  const up = BigInt(voltageMv - below.voltageMv) * BigInt(point.leftPpm - below.leftPpm);
  return (full * (BigInt(below.leftPpm) * rise + up)) / (million * rise);
}

/** The least that is left while the voltage is at least this, in parts per million, rounded up; a million where it never is. */
export function leastLeftPpmAt(curve: readonly VoltagePoint[], voltageMv: number): number {
  const reached = curve.findIndex((point) => point.voltageMv >= voltageMv);
  if (reached < 0) return Number(million);
  const [below, point] = [curve[reached - 1], itemAt(curve, reached)];
  if (below === undefined) return 0;
  const part = (voltageMv - below.voltageMv) / (point.voltageMv - below.voltageMv);
  return Math.ceil(below.leftPpm + part * (point.leftPpm - below.leftPpm));
}
