// The least times that a timer-woken watch needs, in closed form: what can be said of settings without a search.
import type { DeviceMs } from '../base/index.js';
import { type NominalSleeps, sleepOf, type TimingRanges, timerMs } from './timing.js';

interface Threshold {
  readonly open: number;
}

/**
 * From the first open check of an opening that meets the device at rest to the check that can decide an alert, at the least:
 * after each open check that decides none it sleeps for the recheck interval and boots. A reset, which wakes it sooner, and
 * contact edges are left out.
 */
export function leastToDecideMs(
  watch: NominalSleeps & { readonly escalationThreshold: Threshold },
  timing: TimingRanges,
): number {
  const recheckMs = sleepOf(watch.recheckIntervalMs, timing).leastMs + timing.bootTime.least;
  return (watch.escalationThreshold.open - 1) * recheckMs;
}

/** What the device's clock counts at the least from the end of a send to the next check that its timer brings. */
export function leastToNextCheckMs(
  watch: Pick<NominalSleeps, 'checkIntervalMs'>,
  timing: TimingRanges,
): number {
  return sleepOf(watch.checkIntervalMs, timing).countedMs + timing.bootTime.least;
}

/** Whether a timer that starts at the end of a send is always over by the next check that the device's timer brings. */
export function isOverByNextCheck(
  nominalMs: DeviceMs,
  watch: Pick<NominalSleeps, 'checkIntervalMs'>,
  timing: TimingRanges,
): boolean {
  return leastToNextCheckMs(watch, timing) >= timerMs(nominalMs, timing);
}
