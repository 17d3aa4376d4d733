// Long pure work, step by step: between steps the process can be interrupted and shows how far it is.
import { setImmediate } from 'node:timers/promises';
import type { Io } from './io.js';

const atOnceMs = 50;

/** Runs steps to their end. @param report gets what each yields. */
export async function runSteps<Yielded, Result>(
  steps: Generator<Yielded, Result>,
  io: Io,
  report: (yielded: Yielded) => void,
): Promise<Result> {
  let sinceMs = io.elapsed();
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value;
    if (io.elapsed() - sinceMs < atOnceMs) continue;
    report(step.value);
    await setImmediate();
    sinceMs = io.elapsed();
  }
}
