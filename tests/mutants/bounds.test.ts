// Bounds notice every fault of the catalogue that a table of states can hold.
import { describe, expect, it } from 'vitest';
import { type DetectionBounds, detectionBounds, questionOf } from '../../src/bounds/index.js';
import { calmEnvironment, type Environment } from '../../src/model/index.js';
import { mutantProgram, mutants } from '../../src/mutants/index.js';
import { compileWatch, type Program } from '../../src/sim/index.js';
import { watchFileOf } from '../support/watch-question.js';
import {
  type EnvironmentName,
  shownBy,
  shownInTime,
  type WatchName,
  watchTexts,
} from './watches.js';

const environments = {
  calm: calmEnvironment,
  outage: { ...calmEnvironment, longestOutageMs: 300_000 },
  shortOutage: { ...calmEnvironment, longestOutageMs: 150_000 },
  twoOutages: { ...calmEnvironment, outages: 2, outagesApartMs: 300_000, longestOutageMs: 30_000 },
  reset: { ...calmEnvironment, resets: 1 },
  power: { ...calmEnvironment, powerLosses: 1, longestPowerLossMs: 60_000 },
  chatter: { ...calmEnvironment, longestChatterMs: 30_000 },
  longChatter: { ...calmEnvironment, longestChatterMs: 90_000 },
} satisfies Readonly<Record<EnvironmentName, Environment>>;

const loaded = new Map(
  Object.entries(watchTexts).map(([name, text]) => {
    const file = watchFileOf(text);
    return [name, { file, sound: compileWatch(file.watch) }] as const;
  }),
);

function loadedAs(name: WatchName) {
  const found = loaded.get(name);
  if (found === undefined) throw new Error(name);
  return found;
}

function numbersOf(name: WatchName, environment: EnvironmentName, program: Program): object {
  const { file } = loadedAs(name);
  const found: DetectionBounds = detectionBounds({
    ...questionOf({ ...file, environment: environments[environment] }),
    program,
  });
  const { alwaysReportedFromMs, neverAlarmedUpToMs, worstDelayMs, bestDelayMs } = found;
  return { alwaysReportedFromMs, neverAlarmedUpToMs, worstDelayMs, bestDelayMs };
}

const soundNumbers = new Map<string, object>();

function soundly(name: WatchName, environment: EnvironmentName): object {
  const key = `${name}, ${environment}`;
  const known = soundNumbers.get(key) ?? numbersOf(name, environment, loadedAs(name).sound);
  soundNumbers.set(key, known);
  return known;
}

const faults = mutants.map(({ name }) => name).filter((name) => shownInTime[name] === undefined);

describe('the bounds of a faulty watch', () => {
  it('are known of every fault that is in the settings or the table', () => {
    expect(Object.keys(shownBy).toSorted((a, b) => (a < b ? -1 : 1))).toEqual(
      faults.toSorted((a, b) => (a < b ? -1 : 1)),
    );
  });

  // The search has one clock of the cooldown, and it starts at the delivery.
  it.each(faults.filter((name) => name !== 'cooldown-from-decision'))(
    'are other than those of the sound one: %s',
    (fault) => {
      const shown = shownBy[fault];
      if (shown === undefined) throw new Error('there is a watch that shows it');
      const [name, environment] = shown;
      const { file, sound } = loadedAs(name);
      const { program } = mutantProgram(sound, file.timing, fault);
      expect(numbersOf(name, environment, program)).not.toEqual(soundly(name, environment));
    },
  );
});
