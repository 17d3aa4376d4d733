// What a firmware breaks only where the machine of its watch file also does is not its failure.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import {
  type HuntQuestion,
  hunt,
  judgedProperties,
  unlessTheMachine,
} from '../../src/hunt/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { huntQuestion } from '../support/watch-question.js';

/** An opening of four minutes goes unreported at most phases of the checks. */
const text = `watch: { checkInterval: 3m, recheckInterval: 3m, escalationThreshold: 2, alertCooldown: 30m }
judge: { leaveOpenAfter: 4m, reportWithin: 10m }
`;

/** A device that differs from the machine in its times, or in its settings. */
function asked(device: (experiment: Experiment) => Experiment): {
  readonly question: HuntQuestion;
  readonly excused: () => number;
} {
  const question = huntQuestion(text, { properties: ['reported', 'in-time'], with: ['resets'] });
  let excused = 0;
  const properties = unlessTheMachine(judgedProperties(question.judge), () => {
    excused += 1;
  }).map(({ property }) => property);
  const run = (experiment: Experiment) => ({
    trace: simulate(device(experiment), { record: 'none' }),
    stopped: null,
  });
  return { question: { ...question, run, properties }, excused: () => excused };
}

const options = { seed: 1, runs: 200 };

describe('what a device does no worse than the machine', () => {
  it('is not counted, also where its checks come a little later', () => {
    const { question, excused } = asked((experiment) => {
      const bootTime = { kind: 'fixed', ms: trueMs(450) } as const;
      return { ...experiment, timing: { ...experiment.timing, bootTime } };
    });
    expect(hunt(question, options).found).toBeNull();
    expect(excused()).toBeGreaterThan(0);
  });

  it('is told from a mistake', () => {
    const { program } = huntQuestion(text.replace('Threshold: 2', 'Threshold: 6'));
    const { question } = asked((experiment) => ({ ...experiment, program }));
    const { found } = hunt(question, options);
    // Five checks are not enough, where two are required: longer than the machine can overlook it at the phases that are tried.
    const lengths = found?.trial.openings.map(([fromMs, toMs]) => toMs - fromMs) ?? [];
    expect(Math.max(...lengths)).toBeGreaterThan(360_800 - 22_500);
  });
});
