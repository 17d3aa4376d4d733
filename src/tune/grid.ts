// The settings that are tried: every combination of a few values for each.
import type { WatchSettings } from '../machine/index.js';

/** The settings that are searched; all others stay as the watch file has them. */
export type Tuned = Pick<
  WatchSettings,
  'checkIntervalMs' | 'recheckIntervalMs' | 'escalationThreshold' | 'alertCooldownMs' | 'wakeOn'
>;

/** The values to try of each setting, without repetition. */
export type Axes = { readonly [Key in keyof Tuned]: readonly Tuned[Key][] };

/**
 * All combinations. A watch that looks less often once it has seen the door open is not tried, unless only such
 * recheck intervals are given.
 */
export function gridOf(axes: Axes): readonly Tuned[] {
  return axes.wakeOn.flatMap((wakeOn) =>
    axes.escalationThreshold.flatMap((escalationThreshold) =>
      axes.alertCooldownMs.flatMap((alertCooldownMs) =>
        axes.checkIntervalMs.flatMap((checkIntervalMs) =>
          rechecksOf(axes, checkIntervalMs, escalationThreshold.open).map((recheckIntervalMs) => ({
            checkIntervalMs,
            recheckIntervalMs,
            escalationThreshold,
            alertCooldownMs,
            wakeOn,
          })),
        ),
      ),
    ),
  );
}

/** With an alert at the first open check there is no sleep between open checks to choose. */
function rechecksOf(
  { recheckIntervalMs }: Axes,
  checkIntervalMs: Tuned['checkIntervalMs'],
  open: number,
): readonly Tuned['recheckIntervalMs'][] {
  if (open === 1) return [checkIntervalMs];
  const shorter = recheckIntervalMs.filter((ms) => ms <= checkIntervalMs);
  return shorter.length > 0 ? shorter : recheckIntervalMs.slice(0, 1);
}

/** How many of the settings are not as they are in a watch: the fewer, the less there is to change. */
export function changesFrom(watch: WatchSettings, tuned: Tuned): number {
  const { open, outOf } = watch.escalationThreshold;
  return [
    tuned.checkIntervalMs !== watch.checkIntervalMs,
    tuned.recheckIntervalMs !== watch.recheckIntervalMs,
    tuned.escalationThreshold.open !== open || tuned.escalationThreshold.outOf !== outOf,
    tuned.alertCooldownMs !== watch.alertCooldownMs,
    tuned.wakeOn !== watch.wakeOn,
  ].filter(Boolean).length;
}
