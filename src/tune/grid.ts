// The settings that are tried: every combination of a few values for each.
import type { WatchSettings } from '../machine/index.js';

/** The settings that every search tries. */
type AlwaysTuned = Pick<
  WatchSettings,
  'checkIntervalMs' | 'recheckIntervalMs' | 'escalationThreshold' | 'alertCooldownMs' | 'wakeOn'
>;

/** Settings that a search tries only where values are given for them. */
type TunedIfGiven = Pick<
  WatchSettings,
  'clearThreshold' | 'retryIntervalMs' | 'retryAttempts' | 'heartbeatIntervalMs'
>;

/** The settings that are searched; all others, and those that are absent, stay as the watch file has them. */
export type Tuned = AlwaysTuned & Partial<TunedIfGiven>;

/** The values to try of each setting, without repetition. */
export type Axes = { readonly [Key in keyof AlwaysTuned]: readonly AlwaysTuned[Key][] } & {
  readonly [Key in keyof TunedIfGiven]?: readonly TunedIfGiven[Key][];
};

/** A watch with settings in place of its own. */
export function watchWith(watch: WatchSettings, tuned: Tuned): WatchSettings {
  const settings = { ...watch, ...tuned };
  return { ...settings, heartbeats: settings.heartbeatIntervalMs !== null };
}

/** Of a watch, the settings that other settings of a search have. */
export function tunedOf(watch: WatchSettings, like: Tuned | undefined): Tuned {
  const { checkIntervalMs, recheckIntervalMs, escalationThreshold, alertCooldownMs, wakeOn } =
    watch;
  return {
    checkIntervalMs,
    recheckIntervalMs,
    escalationThreshold,
    alertCooldownMs,
    wakeOn,
    ...(like?.clearThreshold === undefined ? {} : { clearThreshold: watch.clearThreshold }),
    ...(like?.retryIntervalMs === undefined ? {} : { retryIntervalMs: watch.retryIntervalMs }),
    ...(like?.retryAttempts === undefined ? {} : { retryAttempts: watch.retryAttempts }),
    ...(like?.heartbeatIntervalMs === undefined
      ? {}
      : { heartbeatIntervalMs: watch.heartbeatIntervalMs }),
  };
}

/**
 * All combinations. A watch that looks less often once it has seen the door open is not tried, unless only such
 * recheck intervals are given.
 */
export function gridOf(axes: Axes): readonly Tuned[] {
  const given = givenOf(axes);
  return alwaysOf(axes).flatMap((always) => given.map((more) => ({ ...always, ...more })));
}

function givenOf(axes: Axes): readonly Partial<TunedIfGiven>[] {
  const { clearThreshold, retryIntervalMs, retryAttempts, heartbeatIntervalMs } = axes;
  const each: readonly (readonly Partial<TunedIfGiven>[])[] = [
    clearThreshold?.map((value) => ({ clearThreshold: value })) ?? [{}],
    retryIntervalMs?.map((value) => ({ retryIntervalMs: value })) ?? [{}],
    retryAttempts?.map((value) => ({ retryAttempts: value })) ?? [{}],
    heartbeatIntervalMs?.map((value) => ({ heartbeatIntervalMs: value })) ?? [{}],
  ];
  return each.reduce((all, some) =>
    all.flatMap((one) => some.map((more) => ({ ...one, ...more }))),
  );
}

function alwaysOf(axes: Axes): readonly AlwaysTuned[] {
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
    (tuned.clearThreshold ?? watch.clearThreshold) !== watch.clearThreshold,
    (tuned.retryIntervalMs ?? watch.retryIntervalMs) !== watch.retryIntervalMs,
    (tuned.retryAttempts ?? watch.retryAttempts) !== watch.retryAttempts,
    tuned.heartbeatIntervalMs !== undefined &&
      tuned.heartbeatIntervalMs !== watch.heartbeatIntervalMs,
  ].filter(Boolean).length;
}
