// A watch as bounds look at it.
import { type Times, timesOf } from '../../bounds/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import type { DeviceTiming } from '../../world/index.js';
import type { LoadedWatch } from './load-watch.js';

export interface Question {
  readonly watch: LoadedWatch;
  readonly times: Times;
}

export function questionOf(loaded: LoadedWatch): Question {
  const watchFile: WatchFile = { ...loaded.watchFile, timing: timingOf(loaded.watchFile) };
  return {
    watch: { ...loaded, watchFile },
    times: timesOf(watchFile.watch, watchFile.timing),
  };
}

/** A clock that errs by temperature errs by anything on its curve: nobody promises how warm it is. */
function timingOf({ timing, clockErrorByTemperature }: WatchFile): DeviceTiming {
  if (clockErrorByTemperature === null) return timing;
  const errors = clockErrorByTemperature.map(({ ppm }) => ppm);
  const [least, ...others] = errors.toSorted((a, b) => a - b);
  if (least === undefined) return timing;
  const greatest = others.at(-1) ?? least;
  return { ...timing, clockError: { kind: 'drawn', leastPpm: least, greatestPpm: greatest } };
}
