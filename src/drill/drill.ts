// The drill of a watch: steps chosen from all that it can be led to.
import { itemAt } from '../base/index.js';
import { mutantPrograms } from '../mutants/index.js';
import { candidatesFor } from './candidates.js';
import { chosenOf } from './choose.js';
import { exercisedOf } from './exercised.js';
import { type Drill, type DrillProgress, type DrillQuestion, type Step, setUpMs } from './plan.js';
import { provedOf } from './proved.js';
import { stageOf } from './stage.js';

/**
 * A drill that shows every transition that a person can bring about and tell the time of, both sides of the bounds, and
 * every faulty watch that shows in messages, in the least time. No steps: nothing about this watch can be told for sure.
 * Yields how far it has come.
 */
export function* drillOf(question: DrillQuestion): Generator<DrillProgress, Drill> {
  yield { doing: 'taking the watch apart', share: null };
  const stage = stageOf(question);
  const candidates = yield* candidatesFor(stage);
  yield { doing: 'making mistakes', share: null };
  const faults = mutantPrograms(
    question.program,
    question.timing,
    question.reset.button !== 'clears',
  ).filter(({ alike }) => !alike);
  const chosen = yield* chosenOf(stage, { candidates, faults });
  const steps = chosen.candidates.map((candidate, index): Step => {
    const { actions, endsMs, windows, bounds } = candidate;
    const { toleranceMs } = candidate.stage.question;
    const tells = itemAt(chosen.tells, index).map((number) => itemAt(faults, number).fault.name);
    return { actions, toleranceMs, windows, endsMs, bounds, tells };
  });
  const told = new Set(steps.flatMap(({ tells }) => tells));
  const names = faults.map(({ fault }) => fault.name);
  yield { doing: 'proving the bounds', share: null };
  return {
    steps: steps.sort((a, b) => a.endsMs - b.endsMs),
    totalMs: chosen.costMs,
    setUpMs,
    atLeastMs: chosen.atLeastMs,
    candidates: chosen.among.length,
    toleranceMs: question.toleranceMs,
    withoutResets: question.reset.button === null,
    ...exercisedOf(stage, new Set(chosen.candidates.flatMap(({ made }) => [...made]))),
    faults: {
      told: names.filter((name) => told.has(name)),
      untold: names.filter((name) => !told.has(name)),
    },
    proved: provedOf(question),
  };
}
