// The days by which to charge: each is a day before the charge since the last of them would be used up, in the first simulated year.
import { dayMs } from '../base/index.js';
import { livingOf, yearsLivedWith, yearWorlds } from '../scenarios/index.js';
import { compileWatch, simulate } from '../sim/index.js';
import { deviceTiming } from '../world/index.js';
import type { YearQuestion } from './lived-years.js';

/** With a charge that lasts a day there are no more. */
const mostDates = 366;

/** Whole days after the start, in ms; empty without a supply, or where a charge lasts for the year. Null: a charge lasts less than two days. */
export function chargeByMs({
  watchFile,
  profile,
  seed,
  outages = null,
}: Pick<YearQuestion, 'watchFile' | 'profile' | 'seed' | 'outages'>): readonly number[] | null {
  const { supply, watch, contact, timing } = watchFile;
  if (supply === null) return [];
  // Cells of one kind differ: the day must be early enough for those that hold the least.
  const capacityNah = supply.cells?.capacityNah.least ?? supply.capacityNah;
  const world = yearWorlds({ profile, contact, outages, powerCuts: null })(seed, 0);
  const ownSeed = `${seed} year 0`;
  const { answers = null } = yearsLivedWith(livingOf(watchFile)).livedWith(watch, ownSeed);
  const experiment = {
    program: compileWatch(watch),
    timing: deviceTiming({}, timing),
    seed: ownSeed,
    answers,
    charge: { supply: { ...supply, capacityNah }, charging: { everyMs: null } },
  };
  const dates: number[] = [];
  while (dates.length < mostDates) {
    const chargedMs = Float64Array.from(dates);
    const { flat } = simulate(
      { ...experiment, world: { ...world, chargedMs } },
      { record: 'none' },
    );
    const [first] = flat;
    if (first === undefined) return dates;
    const byMs = (Math.floor(first.fromMs / dayMs) - 1) * dayMs;
    if (byMs <= (dates.at(-1) ?? 0)) return null;
    dates.push(byMs);
  }
  return null;
}
