// What bounds are sought for, as a watch file and its options say it.
import { type BoundsQuestion, type Environment, type Times, timesOf } from '../../bounds/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import type { DeviceTiming } from '../../world/index.js';
import type { LoadedWatch } from './load-watch.js';

export interface Question {
  readonly watch: LoadedWatch;
  readonly asked: BoundsQuestion;
  readonly times: Times;
}

export function questionOf(loaded: LoadedWatch): Question {
  const watchFile: WatchFile = { ...loaded.watchFile, timing: timingOf(loaded.watchFile) };
  const { timing, judge, contact, sealGapUm } = watchFile;
  const environment: Environment = watchFile.environment;
  const { program } = loaded;
  return {
    watch: { ...loaded, watchFile },
    asked: { program, timing, judge, contact, sealGapUm, environment },
    times: timesOf(program.watch, timing),
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
