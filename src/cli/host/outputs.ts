// Limits of outputs: one file for one timeline, and one thing on standard output.
import { problem } from '../problem.js';

/** @throws InputProblem when there is more than one input for an output of one. */
export function refuseSeveral(option: string, inputs: readonly string[]): void {
  if (inputs.length === 1) return;
  throw problem('one-timeline-only', option, {
    message: 'this option needs exactly one timeline',
    found: `${String(inputs.length)} timelines`,
    hint: 'run the command for each timeline, or leave this option out',
  });
}

/** @throws InputProblem for `-`: standard output already has the report. */
export function refuseStdout(option: string, file: string): void {
  if (file !== '-') return;
  throw problem('output-is-stdout', option, {
    message: 'the report already goes to standard output',
    expected: 'the name of a file',
  });
}
