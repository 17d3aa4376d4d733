// False alarms per year of a watch at a door whose usage is known: a price of remedies, counted in a few simulated years.
import type { FalseAlarmsPerYear } from '../../bounds/index.js';
import { tallyYears } from '../../estimate/index.js';
import type { LogicTable, WatchSettings } from '../../machine/index.js';
import { pricedYears } from '../../model/index.js';
import {
  livingOf,
  type UsageProfile,
  type WatchFile,
  yearsLivedWith,
  yearWorlds,
} from '../../scenarios/index.js';
import { compileWatch } from '../../sim/index.js';
import { deviceTiming } from '../../world/index.js';

/** The same years for every watch: so that two of them differ by what the watches do, not by the draw. */
const seed = 'bounds';

export interface PricedUsage {
  readonly watchFile: WatchFile;
  readonly table: LogicTable;
  readonly ownLogic: boolean;
  readonly profile: UsageProfile;
}

/** Null for a device that holds until somebody resets it, where the watch file does not say who does. */
export function falseAlarmsPerYearAt(usage: PricedUsage): FalseAlarmsPerYear {
  const { watchFile, table, ownLogic, profile } = usage;
  const { timing, judge, contact, answer } = watchFile;
  const people = yearsLivedWith(livingOf(watchFile));
  const draw = yearWorlds({ profile, contact, outages: null, powerCuts: null });
  const known = new Map<string, number>();
  const counted = (watch: WatchSettings): number => {
    const program = { watch, table: ownLogic ? table : compileWatch(watch).table };
    const tally = tallyYears(
      {
        program,
        timing: deviceTiming({}, timing),
        judge,
        seed,
        worldOf: (year) => draw(seed, year),
        livedWith: (yearSeed) => people.livedWith(watch, yearSeed),
        asSeen: people.asSeen,
      },
      0,
      pricedYears,
    );
    return tally.counts.falseAlarms / tally.years;
  };
  return (watch) => {
    if (watch.afterAlert === 'hold-until-reset' && (answer?.afterAlert ?? null) === null)
      return null;
    const key = JSON.stringify(watch);
    const rate = known.get(key) ?? counted(watch);
    known.set(key, rate);
    return rate;
  };
}
