// Runs a trial, judges it, and asks each property about it.
import { type Experiment, simulate } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import type { Breach, HuntQuestion, Played, Ran } from './question.js';
import { type Trial, trialSeed, worldOf } from './trial.js';

/** The device of a question through an experiment: what only wakes would show is not recorded of the program. */
export function played({ run }: HuntQuestion, experiment: Experiment): Played {
  if (run !== undefined) return run(experiment);
  return { trace: simulate(experiment, { record: 'none' }), stopped: null };
}

export function runTrial(question: HuntQuestion, trial: Trial): Ran {
  const world = worldOf(trial, question.contact);
  const { program } = question;
  const experiment = { program, timing: trial.timing, world, seed: trialSeed };
  const { trace, stopped } = played(question, experiment);
  return {
    question,
    trial,
    world,
    trace,
    stopped,
    verdict: judge(world.openings, trace, question.judge),
  };
}

/** The first property that the trial breaks; null: all hold. */
export function breachOf(question: HuntQuestion, trial: Trial): Breach | null {
  const ran = runTrial(question, trial);
  for (const { breach } of question.properties) {
    const found = breach(ran);
    if (found !== null) return found;
  }
  return null;
}
