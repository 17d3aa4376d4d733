// The question of a search for settings: a watch to start from, how its door is used, and what the settings must do.

import type { WatchFileParts } from '../bounds/index.js';
import type { WatchSettings } from '../machine/index.js';
import { type SupplySettings } from '../model/index.js';
import { compileWatch, type Program } from '../sim/index.js';
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

/** The watch with settings in it, ready to run. */
export type Programs = (tuned: Tuned) => Program;

/** Compiles a logic once: few of the settings have one of their own. */
export function programsOf(watch: WatchSettings): Programs {
  const tables = new Map<string, Program['table']>();
  return (tuned) => {
    const settings = watchWith(watch, tuned);
    const { escalationThreshold, clearThreshold, retryAttempts, heartbeats } = settings;
    const { open, outOf } = escalationThreshold;
    const key = [open, outOf, clearThreshold, retryAttempts, heartbeats].join(' ');
    const table = tables.get(key) ?? compileWatch(settings).table;
    tables.set(key, table);
    return { watch: settings, table };
  };
}
