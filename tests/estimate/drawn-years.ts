// Watches and years for tests of estimates.

import { deviceMs, trueMs } from '../../src/base/index.js';
import {
  emptyTally,
  join,
  type Tally,
  tallyYears,
  type YearSource,
} from '../../src/estimate/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import {
  defaultWatchFile,
  type UsageProfile,
  type YearHabits,
  yearWorlds,
} from '../../src/scenarios/index.js';
import { compileWatch, type Program } from '../../src/sim/index.js';
import { timingWith } from '../support/experiments.js';

const bootMs = 400;

/** Programs by their settings: making one takes as long as hundreds of years of running it. */
const programs = new Map<string, Program>();

function programOf(watch: WatchSettings): Program {
  const key = JSON.stringify(watch);
  const program = programs.get(key) ?? compileWatch(watch);
  programs.set(key, program);
  return program;
}

/** A door with the same rate all day and openings of one length. */
export function steadyUse(openingsADay: number, lengthMs: number): UsageProfile {
  return {
    openingsPerHour: Array.from({ length: 24 }, () => openingsADay / 24),
    weekdayFactor: 1,
    weekendFactor: 1,
    duration: { kind: 'fixed', ms: trueMs(lengthMs) },
    leaveOpen: null,
  };
}

export interface Life {
  readonly profile: UsageProfile;
  readonly leaveOpenAfterMs: number;
  readonly watch?: Partial<WatchSettings>;
  readonly habits?: Partial<YearHabits>;
  readonly seed?: string;
}

/** A watch that checks every `periodMs`, boot included, and alerts on the second open check. */
export function yearSource(periodMs: number, life: Life): YearSource {
  const nominalMs = deviceMs(periodMs - bootMs);
  const intervals = { checkIntervalMs: nominalMs, recheckIntervalMs: nominalMs };
  const quiet = { alertCooldownMs: deviceMs(0) };
  const watch = { ...defaultWatchFile().watch, ...intervals, ...quiet, ...life.watch };
  const { profile, seed = '1' } = life;
  const draw = yearWorlds({
    profile,
    contact: null,
    outages: null,
    powerCuts: null,
    ...life.habits,
  });
  return {
    program: programOf(watch),
    timing: timingWith({ bootMs }),
    judge: {
      leaveOpenAfterMs: trueMs(life.leaveOpenAfterMs),
      reportWithinMs: null,
      quietUpToMs: null,
    },
    seed,
    worldOf: (year) => draw(seed, year),
  };
}

/** The sum of stretches of years, in the order given. */
export function tallyOf(
  source: YearSource,
  ...stretches: readonly (readonly [from: number, to: number])[]
): Tally {
  const tally = emptyTally();
  for (const [from, to] of stretches) join(tally, tallyYears(source, from, to));
  return tally;
}
