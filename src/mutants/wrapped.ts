// Device times as arithmetic of too few bits makes them.
import { type DeviceMs, deviceMs } from '../base/index.js';

/** A time counted in microseconds by 32 bits: what is left of it, whole milliseconds, at least 1 where it was not 0. */
export function overflowing(ms: DeviceMs): DeviceMs {
  const keptUs = (ms * 1_000) % 2 ** 32;
  return deviceMs(Math.max(Math.min(ms, 1), Math.floor(keptUs / 1_000)));
}
