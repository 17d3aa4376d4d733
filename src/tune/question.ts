// The question of a search for settings: a watch to start from, how its door is used, and what the settings must do.

import type { WatchFileParts } from '../bounds/index.js';
import type { WatchSettings } from '../machine/index.js';
import { type SupplySettings } from '../model/index.js';
import { compileWatches, type Program } from '../sim/index.js';
import { type Tuned, watchWith } from './grid.js';

/** Everything but the settings that are searched. */
export interface TuneQuestion extends WatchFileParts {
  readonly supply: SupplySettings;
  /** Whether bounds are to hold at rest, or whatever went before. */
  readonly from: 'atRest' | 'anyState';
  /** Names the streams of each year, as in an estimate. */
  readonly seed: string;
  readonly years: number;
}

/** The question about a watch file with a supply. */
export function tuneQuestionOf(
  watchFile: Omit<TuneQuestion, 'from' | 'seed' | 'years'>,
  search: Pick<TuneQuestion, 'from' | 'seed' | 'years'>,
): TuneQuestion {
  const { watch, timing, judge, contact, sealGapUm, opensAtLeastUm, reset, environment, supply } =
    watchFile;
  const door = { contact, sealGapUm, opensAtLeastUm };
  return { watch, timing, judge, ...door, reset, environment, supply, ...search };
}

/** The watch with settings in it, ready to run. */
export type Programs = (tuned: Tuned) => Program;

export function programsOf(watch: WatchSettings): Programs {
  const programOf = compileWatches();
  return (tuned) => programOf(watchWith(watch, tuned));
}
