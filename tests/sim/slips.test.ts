// A faulty watch whose clock or counters are wrong: wakes at rest are jumped over, and give the same run as one by one.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Trial, trials } from '../../src/hunt/index.js';
import { worldOf } from '../../src/hunt/trial.js';
import { mutantProgram } from '../../src/mutants/index.js';
import { type SlipFacts, simulate, type TimeSlips, type Trace } from '../../src/sim/index.js';
import { shownInTime, watchTexts } from '../mutants/watches.js';
import { experimentOf, type WorldNumbers } from '../support/experiments.js';
import { huntQuestion } from '../support/watch-question.js';

const dayMs = 86_400_000;

describe('a watch that counts wrongly', () => {
  it.each(Object.entries(shownInTime))(
    'does the same where its wakes are jumped over: %s',
    (fault, [name, lengthMs]) => {
      const question = huntQuestion(watchTexts[name], {
        with: ['outages', 'power', 'resets'],
        lengthMs: Math.min(lengthMs, 9 * dayMs),
      });
      const { program } = mutantProgram(question.program, question.timing, fault);
      const law = fc.property(trials(question), (trial) => {
        expect(alertsOf(oneByOne(trial))).toEqual(alertsOf(trial));
      });
      fc.assert(law, { seed: 1, numRuns: 25 });

      function alertsOf(trial: Trial) {
        const experiment = {
          program,
          timing: trial.timing,
          world: worldOf(trial, null),
          seed: '1',
        };
        const { alerts, tally } = simulate(experiment, { record: 'none' });
        return { alerts, checks: tally.checks };
      }
    },
  );
});

/** The same boot times as a list: then no wakes are equal to the simulator. */
function oneByOne(trial: Trial): Trial {
  const { bootTime } = trial.timing;
  if (bootTime.kind !== 'fixed') throw new Error('the watch has one boot time');
  return { ...trial, timing: { ...trial.timing, bootTime: { kind: 'inTurn', ms: [bootTime.ms] } } };
}

describe('what a faulty watch can count', () => {
  function runOf(world: WorldNumbers, slips: TimeSlips, watch = {}): Trace {
    const { program, ...rest } = experimentOf(world, { watch });
    return simulate({ ...rest, program: { ...program, slips } });
  }

  // The plain watch wakes at 0, 180 400 and 360 800, sends an alert from 361 200 to 365 200, and wakes at 545 200; after the
  // power loss at 650 000 and 830 400.
  const world: WorldNumbers = {
    lengthMs: 900_000,
    openings: [[100_000, 400_000]],
    powerLost: [[600_000, 650_000]],
  };

  function factsOf(name: keyof TimeSlips, on: WorldNumbers, watch = {}): SlipFacts[] {
    const seen: SlipFacts[] = [];
    runOf(on, { [name]: (facts: SlipFacts) => seen.push(facts) < 0 }, watch);
    return seen;
  }

  it('is counted from power-on, at each wake that finds memory', () => {
    expect(factsOf('forgets', world)).toEqual([
      { clockMs: 180_400, clockBeforeMs: 0, wakes: 2, sinceDeliveryMs: null },
      { clockMs: 360_800, clockBeforeMs: 180_400, wakes: 3, sinceDeliveryMs: null },
      { clockMs: 545_200, clockBeforeMs: 360_800, wakes: 4, sinceDeliveryMs: 180_000 },
      { clockMs: 180_400, clockBeforeMs: 0, wakes: 2, sinceDeliveryMs: null },
    ]);
  });

  it('is known at each check', () => {
    const known = factsOf('deaf', world).map(({ clockMs, wakes, sinceDeliveryMs }) => [
      ...[clockMs, wakes, sinceDeliveryMs],
    ]);
    expect(known).toEqual([
      [400, 1, null],
      [180_800, 2, null],
      [361_200, 3, null],
      [545_600, 4, 180_400],
      [400, 1, null],
      [180_800, 2, null],
    ]);
  });

  it('goes on over wakes that are jumped over', () => {
    const openings = [[10_000_000, 10_100_000 + 2_500]] as const;
    const late = factsOf('forgets', { lengthMs: 10_200_000, openings });
    // The check of wake 57 is the first to read open; the wakes before it, from the third on, were jumped over.
    expect(late).toEqual([
      { clockMs: 180_400, clockBeforeMs: 0, wakes: 2, sinceDeliveryMs: null },
      {
        ...{ clockMs: 56 * 180_400, clockBeforeMs: 55 * 180_400, wakes: 57 },
        sinceDeliveryMs: null,
      },
    ]);
  });

  it('is known at every check, though each is like the last, unless the device is at rest', () => {
    // It cools down all the time, first with the door open, then with the door shut.
    const cooling = { lengthMs: 1_500_000, openings: [[100_000, 800_000]] as const };
    const seen = factsOf('deaf', cooling, { cooldownEndsWhenShut: false });
    expect(seen.map(({ clockMs }) => clockMs)).toEqual([
      ...[400, 180_800, 361_200, 545_600, 726_000],
      ...[906_400, 1_086_800, 1_267_200, 1_447_600],
    ]);
  });

  it('is known at every check that would read open, were it not deaf', () => {
    const seen: number[] = [];
    const deaf = ({ clockMs }: SlipFacts) => seen.push(clockMs) > 0;
    runOf({ lengthMs: 1_500_000, openings: [[100_000, 800_000]] }, { deaf });
    expect(seen).toEqual([400, 180_800, 361_200, 541_600, 722_000, 902_400]);
  });

  it('makes it deaf: an open contact reads shut', () => {
    const { alerts } = runOf(world, { deaf: ({ wakes }) => wakes === 3 });
    expect(alerts).toEqual([]);
  });

  it('makes it forget its count, its cooldown and an alert to be sent', () => {
    const open = { lengthMs: 900_000, openings: [[0, 900_000]] as const };
    const decided = (forgetful: number, more: Partial<WorldNumbers> = {}) =>
      runOf({ ...open, ...more }, { forgets: ({ wakes }) => wakes === forgetful }).alerts.map(
        ({ decidedMs, forgottenMs }) => [decidedMs, forgottenMs],
      );
    expect(decided(0)).toEqual([[180_800, null]]);
    expect(decided(2)).toEqual([[361_200, null]]);
    // Delivered at 184 800, forgotten at 364 800: the second check after that alerts, cooldown or not.
    expect(decided(3)).toEqual([
      [180_800, null],
      [545_600, null],
    ]);
    // A retry wakes it at 244 800.
    expect(decided(3, { networkDown: [[0, 900_000]] })).toEqual([
      [180_800, 244_800],
      [425_600, null],
    ]);
  });
});
