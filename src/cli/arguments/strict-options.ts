// Two slips that a parser of command lines lets pass: an option with a value that is given twice, of which the first
// would be forgotten without a word, and one whose value was left out, so that the next option is taken for it. And
// options by the names that they had: the error names the new one.
import type { Command } from '@commander-js/extra-typings';
import { repeatable } from './repeated.js';

const everywhere: readonly string[] = ['-h', '--help', '--no-color'];

/** The names that options had, and have. */
const renamed: Readonly<Record<string, string>> = {
  '--out': '-o, --output',
  '--save': '-o, --output',
  '--fault': '--mistake',
  '--against-faults': '--against-mistakes',
  '--power-cuts': '--power-loss-rate',
  '--outages': '--outage-rate',
};

/** Refuses an option by its former name, where the command has it by its new one. */
export function refuseFormerNames(command: Command, args: readonly string[]): void {
  const flags = new Set(command.options.map((option) => option.flags.replace(/ [<[].*/u, '')));
  for (const arg of args) {
    if (arg === '--') return;
    const [name = ''] = arg.split('=', 1);
    const now = Object.hasOwn(renamed, name) ? renamed[name] : undefined;
    if (now !== undefined && flags.has(now)) {
      command.error(`error: option '${name}' is now '${now}'`);
    }
  }
}

/** Refuses both slips in a command that has all its options. */
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
      if (given && !repeatable.has(`--${option.name()}`))
        command.error(`error: option '${option.flags}' is given twice`);
      given = true;
    });
  }
}
