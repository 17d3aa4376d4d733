// The corners of what may vary: the clock, the time awake, and the person. Instants of a run whose decisions stay the
// same grow with each of these, so that the corners hold them all.
import { type Ppm, ppm, randomStream, trueMs } from '../base/index.js';
import { clockErrorsOf, type TimingRanges } from '../model/index.js';
import { type DeviceTiming, deviceTiming } from '../world/index.js';

/** One device within the ranges, and a person who is so much late (below 0: early), and from some action on differently. */
export interface Corner {
  readonly timing: DeviceTiming;
  readonly leanMs: number;
  /** The index of an action, and how late the person is from it on. */
  readonly then: { readonly from: number; readonly leanMs: number } | null;
  /** For each action, in place of the two above. */
  readonly leansMs?: readonly number[];
}

export function leanOf({ leanMs, then, leansMs }: Corner, index: number): number {
  const own = leansMs?.[index];
  if (own !== undefined) return own;
  return then !== null && index >= then.from ? then.leanMs : leanMs;
}

/**
 * The corners, and those in which a person who was early is late from an action on, or the other way round. Timers of
 * the device (cooldown, heartbeat) go by the difference of two instants, each of which may follow from another action.
 */
export function withTurns(corners: readonly Corner[], actions: number): readonly Corner[] {
  const turned = corners.flatMap((corner) =>
    Array.from({ length: Math.max(0, actions - 1) }, (_, index) => ({
      ...corner,
      then: { from: index + 1, leanMs: -corner.leanMs },
    })),
  );
  return [...corners, ...turned];
}

/** The first one has everything at its least, the last one at its greatest. */
export function cornersOf(timing: TimingRanges, toleranceMs: number): readonly Corner[] {
  const clock = clockErrorsOf(timing.clockError);
  const { bootTime: boot, connectTime: connect, joinWaitMs } = timing;
  const sides = (least: number, most: number): readonly number[] => [...new Set([least, most])];
  const varies = boot.least !== boot.most || connect.least !== connect.most;
  return sides(clock.least, clock.most).flatMap((error) =>
    (varies ? (['least', 'most'] as const) : (['least'] as const)).flatMap((side) =>
      sides(-toleranceMs, toleranceMs).map((leanMs) => ({
        leanMs,
        then: null,
        timing: steady({
          bootMs: boot[side],
          connectMs: connect[side],
          joinWaitMs,
          error: ppm(error),
        }),
      })),
    ),
  );
}

function steady(one: {
  readonly bootMs: number;
  readonly connectMs: number;
  readonly joinWaitMs: number;
  readonly error: Ppm;
}): DeviceTiming {
  return deviceTiming({
    bootTime: { kind: 'fixed', ms: trueMs(one.bootMs) },
    connectTime: { kind: 'fixed', ms: trueMs(one.connectMs) },
    joinWaitMs: one.joinWaitMs,
    clockError: { kind: 'fixed', ppm: one.error },
  });
}

/** Somewhere between the corners: devices within the ranges, and people who are early and late as it comes. */
export function drawnCases(
  timing: TimingRanges,
  toleranceMs: number,
  on: { readonly actions: number; readonly count: number },
): readonly Corner[] {
  const clock = clockErrorsOf(timing.clockError);
  const { bootTime: boot, connectTime: connect } = timing;
  return Array.from({ length: on.count }, (_, index) => {
    const stream = randomStream('drill', `case ${String(index)}`);
    const within = ({ least, most }: { readonly least: number; readonly most: number }): number =>
      stream.whole(least, most);
    return {
      leanMs: 0,
      then: null,
      leansMs: Array.from({ length: on.actions }, () => stream.whole(-toleranceMs, toleranceMs)),
      timing: steady({
        bootMs: within(boot),
        connectMs: within(connect),
        joinWaitMs: timing.joinWaitMs,
        error: ppm(within(clock)),
      }),
    };
  });
}
