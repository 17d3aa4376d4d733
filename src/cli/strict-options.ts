// Two slips that a parser of command lines lets pass: an option with a value that is given twice, of which the first
// would be forgotten without a word, and one whose value was left out, so that the next option is taken for it.
import type { Command } from '@commander-js/extra-typings';

const everywhere: readonly string[] = ['-h', '--help', '--no-color'];

/** Refuses both in a command that has all its options. */
export function refuseSlips(command: Command): void {
  const known = new Set([
    ...everywhere,
    ...command.options.flatMap(({ short, long }) => [short, long]),
  ]);
  for (const option of command.options) {
    if (!option.required || option.variadic) continue;
    let given = false;
    command.on(`option:${option.name()}`, (value: unknown) => {
      if (typeof value === 'string' && known.has(value)) {
        command.error(`error: option '${option.flags}' argument missing: ${value} is an option`);
      }
      if (given) command.error(`error: option '${option.flags}' is given twice`);
      given = true;
    });
  }
}
