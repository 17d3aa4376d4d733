// How long a device takes at most from one attempt to the next.
import type { WatchSettings } from '../machine/index.js';
import { longestSleepMs } from '../model/index.js';
import { clockErrorRangeOf, type DeviceTiming, rangeMsOf } from '../world/index.js';

/**
 * The longest time from the end of one wake's work to the end of the next one's: a sleep, a boot, and an attempt.
 * A device that has something to send, and is left in peace for this long, has tried.
 */
export function longestPeriodMs(watch: WatchSettings, timing: DeviceTiming): number {
  const nominalMs = longestSleepMs(watch);
  const { most } = clockErrorRangeOf(timing.clockError);
  const sleepMs = Math.ceil(nominalMs + (nominalMs * Math.max(0, most)) / 1_000_000);
  const sendMs = rangeMsOf(timing.connectTime).most + timing.joinWaitMs;
  return sleepMs + rangeMsOf(timing.bootTime).most + 2 * sendMs + 1;
}
