// Limits of outputs: one file for one timeline, one thing on standard output, and a name that says what the file holds.
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

/**
 * A file of one kind is written under a name of that kind only: `-o watch.yaml`, meant as `-c watch.yaml`, overwrites nothing.
 * @param file `-` for standard output.
 * @throws InputProblem for another ending.
 */
export function refuseOtherEnding(file: string, what: string, ending: '.html' | '.ics'): void {
  const fits = ending === '.html' ? /\.html?$/iu : /\.ics$/iu;
  if (file === '-' || fits.test(file)) return;
  throw problem('unknown-format', '--output', {
    message: `${what}: the file name must end in ${ending}`,
    found: file,
  });
}
