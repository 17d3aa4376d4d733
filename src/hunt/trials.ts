// Trials for a question, as fast-check draws and shrinks them.
import fc from 'fast-check';
import type { HuntQuestion } from './question.js';
import { scripts } from './script.js';
import { staged } from './stage.js';
import { timings } from './timings.js';
import type { Trial } from './trial.js';

/** Door timelines built around what the device of a question is about to do, with what befalls it meanwhile. */
export function trials(question: HuntQuestion): fc.Arbitrary<Trial> {
  return fc
    .tuple(scripts(question), timings(question.timing))
    .map(([script, timing]) => staged(question, script, timing));
}
