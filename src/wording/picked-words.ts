// Which values of the ranges of a watch file a run had: the clock error once, boot and connect times at each wake.
import { durationText, plain, ppmText } from '../base/index.js';
import type { Timeline } from '../scenarios/index.js';
import { sleepClock } from '../sim/index.js';
import type { ClockError, VaryingMs } from '../world/index.js';

/** `clock error 0.31 % (from −1 % to 1 %), by seed 1`; null: nothing was picked. */
export function pickedWords({ timing, seed }: Pick<Timeline, 'timing' | 'seed'>): string | null {
  const { clockError, bootTime, connectTime } = timing;
  const picked = [
    ...clockText(clockError, seed),
    ...timesText('boot', bootTime),
    ...timesText('connect', connectTime),
  ];
  if (picked.length === 0) return null;
  return `${picked.join(', ')}, by seed ${plain(seed)}`;
}

function clockText(error: ClockError, seed: string): readonly string[] {
  if (error.kind !== 'drawn' || error.leastPpm === error.greatestPpm) return [];
  const { ppm } = sleepClock(error, seed);
  const here = ppm === null ? '' : ` ${ppmText(ppm)}`;
  return [`clock error${here} (from ${ppmText(error.leastPpm)} to ${ppmText(error.greatestPpm)})`];
}

function timesText(what: string, times: VaryingMs): readonly string[] {
  if (times.kind !== 'range') return [];
  return [
    `each ${what} time from ${durationText(times.leastMs)} to ${durationText(times.greatestMs)}`,
  ];
}
