// Emitted C files, written down to be compiled.
import { cFiles } from '../../src/emit/index.js';
import type { Program } from '../../src/sim/index.js';
import { ownFolder } from '../cli/run-here.js';

export const strict = ['-std=c99', '-Wall', '-Wextra', '-Wpedantic', '-Wconversion', '-Werror'];

/** The files of watches with these prefixes, in a folder of their own, besides others. */
export function emittedFolder(
  programs: Readonly<Record<string, Program>>,
  others: Readonly<Record<string, string>> = {},
): string {
  const emitted = Object.entries(programs).flatMap(
    ([prefix, program]) => cFiles(program, { prefix, origin: 'a test' }) ?? [],
  );
  return ownFolder({
    ...Object.fromEntries(emitted.map(({ name, text }) => [name, text])),
    ...others,
  });
}
