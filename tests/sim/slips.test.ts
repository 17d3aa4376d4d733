// A faulty watch whose clock or counters are wrong: wakes at rest are jumped over, and give the same run as one by one.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Trial, trials } from '../../src/hunt/index.js';
import { worldOf } from '../../src/hunt/trial.js';
import { mutantProgram } from '../../src/mutants/index.js';
import { simulate } from '../../src/sim/index.js';
import { shownInTime, watchTexts } from '../mutants/watches.js';
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
