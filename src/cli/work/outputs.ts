// What may be written where: never over an input, and one file for one timeline.
import path from 'node:path';
import type { Io } from '../host/io.js';
import { problem } from '../problem.js';

/** @throws InputProblem when `file` is one of the inputs. */
export function refuseOverwriting(
  option: string,
  file: string,
  on: { readonly inputs: readonly string[]; readonly io: Io },
): void {
  if (file === '-') return;
  const target = path.resolve(on.io.folder, file);
  const hit = on.inputs.find((input) => path.resolve(on.io.folder, input) === target);
  if (hit === undefined) return;
  throw problem('output-is-input', option, {
    message: 'the output would overwrite an input',
    found: file,
    hint: 'choose another name',
  });
}

/** @throws InputProblem when there is more than one input for an output of one. */
export function refuseSeveral(option: string, inputs: readonly string[]): void {
  if (inputs.length === 1) return;
  throw problem('one-timeline-only', option, {
    message: 'this is written for one timeline at a time',
    found: `${String(inputs.length)} timelines`,
    hint: 'give one of them',
  });
}

/** @throws InputProblem for `-`: standard output already has the report. */
export function refuseStdout(option: string, file: string): void {
  if (file !== '-') return;
  throw problem('output-is-stdout', option, {
    message: 'standard output already carries the report',
    expected: 'the name of a file',
  });
}
