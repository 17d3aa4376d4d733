// Questions about bounds in plain numbers, on the default experiments.
import { trueMs } from '../../src/base/index.js';
import { type BoundsQuestion, calmEnvironment, type Environment } from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import type { DeviceTiming } from '../../src/world/index.js';
import { programOf, timingWith, watchWith } from '../support/experiments.js';

export function questionOf(
  watch: Partial<WatchSettings>,
  {
    timing = timingWith({}),
    environment = {},
    leaveOpenAfterMs = 180_000,
  }: {
    readonly timing?: DeviceTiming;
    readonly environment?: Partial<Environment>;
    readonly leaveOpenAfterMs?: number;
  } = {},
): BoundsQuestion {
  return {
    program: programOf(watchWith(watch)),
    timing,
    judge: { leaveOpenAfterMs: trueMs(leaveOpenAfterMs), reportWithinMs: null, quietUpToMs: null },
    contact: null,
    sealGapUm: 2_000,
    environment: { ...calmEnvironment, ...environment },
  };
}
