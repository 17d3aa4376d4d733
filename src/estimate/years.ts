// Device-years through the watch, one after the other. Each has its own world and its own seed by its number.
import { type Requirements } from '../model/index.js';
import { type Experiment, type Program, simulate, type Trace } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import type { DeviceTiming, World } from '../world/index.js';
import { addYear, emptyTally, type Tally } from './tally.js';

/** A watch and the years to simulate. */
export interface YearSource {
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly judge: Requirements;
  /** Names the random streams of each year, together with its number. */
  readonly seed: string;
  /** The world of a year: the same for the same number. */
  readonly worldOf: (year: number) => World;
  /** What people do in a year with this seed; absent: nobody comes, and there is always charge. */
  readonly livedWith?: (seed: string) => Pick<Experiment, 'charge' | 'answers'>;
  /** The alerts as somebody saw them; absent: as they were delivered. */
  readonly asSeen?: (trace: Trace, seed: string) => Trace;
}

/** Runs the years from `from` to before `to`. Pure: the same years give the same tally. */
export function tallyYears(source: YearSource, from: number, to: number): Tally {
  const { program, timing, seed } = source;
  const tally = emptyTally();
  for (let year = from; year < to; year += 1) {
    const world = source.worldOf(year);
    const ownSeed = `${seed} year ${String(year)}`;
    const lived = source.livedWith?.(ownSeed);
    const trace = simulate({ program, timing, world, seed: ownSeed, ...lived }, { record: 'none' });
    const seen = source.asSeen?.(trace, ownSeed) ?? trace;
    addYear(tally, judge(world.openings, seen, source.judge), trace.alerts);
  }
  return tally;
}
