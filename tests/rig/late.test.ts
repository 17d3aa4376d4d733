// What the default hunt of a firmware draws is enough for mistakes that show after days or weeks, and blames nothing that is sound. Its
// timelines are drawn once and each firmware runs through them; nothing is made smaller, which would take most of the time.
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planOf } from '../../src/cli/hunt/readings.js';
import { loadWatch } from '../../src/cli/inputs/load-watch.js';
import { compileFirmware } from '../../src/cli/rig/compile-firmware.js';
import { rigHuntOptions } from '../../src/cli/rig/hunt.js';
import { openRig } from '../../src/cli/rig/process.js';
import {
  breachOf,
  deviceProperties,
  type HuntQuestion,
  judgedProperties,
  type Trial,
  trials,
  unlessTheMachine,
} from '../../src/hunt/index.js';
import { ioOf } from '../cli/run-here.js';
import { once } from '../support/once.js';
import { firmwareFolder } from './on-the-rig.js';

const io = ioOf(firmwareFolder, { environment: { PATH: process.env['PATH'] ?? '' } });
const runs = 120;
/** As a hunt does: a few timelines with each seed, and the next seed for the next few. */
const atOnce = 20;
const seed = 300_000;

const drawn = once(async (): Promise<{ question: HuntQuestion; all: readonly Trial[] }> => {
  const { watchFile, program } = await loadWatch('timer.yaml', io, [], undefined);
  const { watch, timing, judge, contact } = watchFile;
  const { adversity, lengthMs } = planOf(rigHuntOptions({}), watchFile);
  const asked = [...judgedProperties(judge), ...deviceProperties(program, watch)];
  const properties = unlessTheMachine(asked, () => undefined).map(({ property }) => property);
  const question = { watch, program, timing, judge, contact, adversity, lengthMs, properties };
  const all: Trial[] = [];
  for (let part = 0; part * atOnce < runs; part += 1) {
    all.push(...fc.sample(trials(question), { seed: seed + part, numRuns: atOnce }));
  }
  return { question, all };
});

/** The first breach among a number of timelines; null: none of them has one. */
async function firstBreach(file: string, variant: number, most: number): Promise<string | null> {
  const { question, all } = await drawn();
  const define = [`MISTAKE=${String(variant)}`];
  const rig = openRig(await compileFirmware(path.join('many', file), io, { define }));
  try {
    const run: HuntQuestion['run'] = (experiment) => {
      const { trace, failure } = rig.run(experiment, { wakes: false, limitSeconds: 60 });
      return { trace, stopped: failure?.kind ?? null };
    };
    for (const trial of all.slice(0, most)) {
      const breach = breachOf({ ...question, run }, trial);
      if (breach !== null) return breach.property;
    }
    return null;
  } finally {
    rig.close();
  }
}

describe('a mistake that shows late', () => {
  it.each([
    ['a housekeeping each week that forgets everything', 9],
    ['an hour of silence each day', 10],
    ['a list with a place for each of 30 days', 11],
    ['a list of alerts that runs over its end', 13],
    ['one deaf day, the 50th', 31],
    ['two deaf hours each week', 32],
    ['an outage that the firmware gives up on, after two weeks', 11, 'later.c'],
    ['a reset after eight days that ends it', 20, 'later.c'],
    ['a back-off that is never set back', 2, 'further.c'],
    ['a ring of events, one too far', 4, 'further.c'],
    ['a restart each day that forgets an unsent alert', 8, 'further.c'],
    ['a queue that is full at the third event', 10, 'further.c'],
    ['the third outage, at which it gives up', 11, 'further.c'],
    ['a day that ends, and an unsent alert with it', 21, 'combined.c'],
  ])('is found: %s', async (_, variant, file = 'late.c') => {
    expect(await firstBreach(file, variant, runs)).not.toBeNull();
  });
});

describe('sound firmware', () => {
  it.each([
    ['whole seconds', 1],
    ['an enum and bit fields', 2],
    ['a class over memory that nothing sets, with a mark and a sum', 3],
    ['differences of a clock of 32 bits', 4],
    ['sleeps that end with a whole second', 5],
    ['a send in two parts, a watchdog and a store', 6],
    ['the time that is left of the cooldown', 7],
    ['five readings, and heap within a wake', 8],
    ['a count of wakes that wraps and does no harm', 9],
    ['a shift register of readings', 10],
  ])('is not blamed: %s', async (_, variant) => {
    expect(await firstBreach('sound.cpp', variant, 40)).toBeNull();
  });
});
