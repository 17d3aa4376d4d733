// A watch as bounds look at it.
import { type Times, timesOf } from '../../bounds/index.js';
import { timingAtAnyTemperature, type WatchFile } from '../../scenarios/index.js';
import type { LoadedWatch } from './load-watch.js';

export interface Question {
  readonly watch: LoadedWatch;
  readonly times: Times;
}

export function questionOf(loaded: LoadedWatch): Question {
  const timing = timingAtAnyTemperature(loaded.watchFile);
  const watchFile: WatchFile = { ...loaded.watchFile, timing };
  return {
    watch: { ...loaded, watchFile },
    times: timesOf(watchFile.watch, watchFile.timing),
  };
}
