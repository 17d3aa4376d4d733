// Questions about bounds in plain numbers, on the default experiments.
import { trueMs } from '../../src/base/index.js';
import { type BoundsQuestion, questionOf as questionOfFile } from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import {
  calmEnvironment,
  type Environment,
  type ResetMemory,
  type TimingRanges,
} from '../../src/model/index.js';
import { rangesWith, tableOf, watchWith } from '../support/experiments.js';

export const keepingResets: ResetMemory = {
  button: 'keeps',
  watchdog: 'keeps',
  software: 'keeps',
};

export function questionOf(
  watch: Partial<WatchSettings>,
  {
    timing = rangesWith({}),
    environment = {},
    leaveOpenAfterMs = 180_000,
    reset = keepingResets,
  }: {
    readonly timing?: TimingRanges;
    readonly environment?: Partial<Environment>;
    readonly leaveOpenAfterMs?: number;
    readonly reset?: ResetMemory;
  } = {},
): BoundsQuestion {
  const settings = watchWith(watch);
  const file = {
    watch: settings,
    timing,
    judge: { leaveOpenAfterMs: trueMs(leaveOpenAfterMs), reportWithinMs: null, quietUpToMs: null },
    contact: null,
    sealGapUm: 2_000,
    opensAtLeastUm: null,
    reset,
    environment: { ...calmEnvironment, ...environment },
  };
  return questionOfFile(file, { table: tableOf(settings), ownLogic: false });
}
