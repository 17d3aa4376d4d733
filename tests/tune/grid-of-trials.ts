// A small grid of settings, each proved and simulated for a few years.

import { deviceMs } from '../../src/base/index.js';
import { type SupplySettings } from '../../src/model/index.js';
import { type UsageProfile, yearWorlds } from '../../src/scenarios/index.js';
import {
  type Axes,
  gridOf,
  liveThrough,
  programsOf,
  prover,
  type Trial,
  type TuneQuestion,
  whatYearsSay,
} from '../../src/tune/index.js';
import { watchFileOf } from '../support/watch-question.js';

const watchFile = watchFileOf(`watch: { checkInterval: 3m, escalationThreshold: 2 }
judge: { leaveOpenAfter: 6m5s }
supply: { preset: bare-board, capacity: 1200mAh }
`);

function supplyOfFile(): SupplySettings {
  if (watchFile.supply === null) throw new Error('the file has a supply');
  return watchFile.supply;
}

export const question: TuneQuestion = {
  watch: watchFile.watch,
  timing: watchFile.timing,
  judge: watchFile.judge,
  contact: watchFile.contact,
  sealGapUm: watchFile.sealGapUm,
  opensAtLeastUm: watchFile.opensAtLeastUm,
  reset: watchFile.reset,
  environment: watchFile.environment,
  supply: supplyOfFile(),
  from: 'atRest',
  seed: '1',
  years: 3,
};

const minutes = (...counts: readonly number[]) => counts.map((count) => deviceMs(count * 60_000));

export const axes: Axes = {
  checkIntervalMs: minutes(1, 3, 5, 10),
  recheckIntervalMs: minutes(0.5, 3),
  escalationThreshold: [
    { open: 1, outOf: 1 },
    { open: 2, outOf: 2 },
    { open: 2, outOf: 3 },
  ],
  alertCooldownMs: minutes(0, 30),
  wakeOn: ['timer', 'opening'],
};

const profile: UsageProfile = {
  openingsPerHour: Array.from({ length: 24 }, () => 0.5),
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: { kind: 'lognormal', medianMs: watchFile.judge.leaveOpenAfterMs, sigma: 1 },
  leaveOpen: null,
};

/** Every setting of the grid, with nothing left out. */
export function wholeGrid(): readonly Trial[] {
  const settings = gridOf(axes);
  const draw = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  const proveOne = prover(question);
  const lives = liveThrough(question, settings, {
    programOf: programsOf(question.watch),
    worldOf: (year) => draw(question.seed, year),
  });
  return lives.map((life, index): Trial => {
    const tuned = settings[index];
    if (tuned === undefined) throw new Error('a life belongs to settings');
    return {
      settings: tuned,
      proved: proveOne(tuned),
      years: whatYearsSay(life, question.supply, { confidence: 0.95 }),
    };
  });
}
