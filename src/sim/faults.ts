// Resets and power losses in one list. At one instant a power loss comes before a reset, and both come before
// whatever the device was about to do: a check or the end of a send at that instant does not happen.
import { cellAt } from '../base/index.js';
import { resetKinds } from '../model/index.js';
import type { World } from '../world/index.js';
import { resetEffectAt, within } from '../world/index.js';

export interface Faults {
  /** Ascending; the last is `Infinity`, so that there always is a next one. */
  readonly atMs: Float64Array;
  /** When the device boots again: the same instant for a reset, the return of power (or Infinity) else. */
  readonly backMs: Float64Array;
  /** Whether retained memory is lost: with the power, or by a reset that clears it. */
  readonly clears: Uint8Array;
  /** Of a reset: its place in `resetKinds`. */
  readonly kinds: Uint8Array;
}

/** Faults that meet a running device, and when it first runs. @param powerOnAtMs in place of the world's. */
export function faultsOf(
  world: World,
  powerOnAtMs: number = world.powerOnAtMs,
): { readonly faults: Faults; readonly firstBootMs: number } {
  const { powerLost, resetsMs } = world;
  const pairs: [number, number, number, number][] = [];
  let firstBootMs = powerOnAtMs;
  powerLost.fromMs.forEach((fromMs, index) => {
    const toMs = cellAt(powerLost.toMs, index);
    if (fromMs > firstBootMs) pairs.push([fromMs, toMs, 1, 0]);
    else if (toMs > firstBootMs) firstBootMs = toMs;
  });
  for (const [index, atMs] of resetsMs.entries()) {
    // A reset while there is no power does nothing, and one at the instant of a boot adds nothing to it.
    const boots = atMs <= firstBootMs || within(powerLost, atMs - 1);
    if (boots || within(powerLost, atMs)) continue;
    const { clears, kind } = resetEffectAt(world, index);
    pairs.push([atMs, atMs, clears ? 1 : 0, resetKinds.indexOf(kind)]);
  }
  pairs.sort((a, b) => a[0] - b[0]);
  pairs.push([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 0, 0]);
  return {
    faults: {
      atMs: Float64Array.from(pairs, ([atMs]) => atMs),
      backMs: Float64Array.from(pairs, ([, backMs]) => backMs),
      clears: Uint8Array.from(pairs, ([, , clears]) => clears),
      kinds: Uint8Array.from(pairs, ([, , , kind]) => kind),
    },
    firstBootMs,
  };
}
