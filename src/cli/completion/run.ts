// `dozewatch completion` at work: what every command takes, as the commands themselves define it.

import { Command } from '@commander-js/extra-typings';
import type { CommandEntry } from '../command.js';
import { fullHelp } from '../help.js';
import type { ExitStatus, Io } from '../host/io.js';
import {
  type CompletedCommand,
  type CompletedOption,
  completionScript,
  type Shell,
} from './script.js';

export async function completion(
  shell: Shell,
  { json }: { readonly json?: true | undefined },
  on: { readonly io: Io; readonly table: readonly CommandEntry[] },
): Promise<ExitStatus> {
  const commands = await Promise.all(on.table.map((entry) => completedOf(entry, on.table)));
  const text =
    json === true
      ? `${JSON.stringify({ schema: 'dozewatch/completion/1', commands }, null, 2)}\n`
      : completionScript(shell, commands);
  await on.io.stdout.write(text);
  return 0;
}

async function completedOf(
  entry: CommandEntry,
  table: readonly CommandEntry[],
): Promise<CompletedCommand> {
  const command = new Command(entry.name);
  (await entry.load()).define(command, () => Promise.resolve(), table);
  const words = command.registeredArguments.flatMap(({ argChoices }) => argChoices ?? []);
  const options = command.options.map(
    (option): CompletedOption => ({
      long: option.long ?? '',
      short: option.short ?? null,
      description: option.description,
      takesValue: option.required || option.optional,
      choices: option.argChoices ?? [],
    }),
  );
  const helps = [
    { long: '--help', short: '-h', description: 'show the help' },
    { long: fullHelp, short: null, description: 'show the help with every option explained' },
  ].map((help): CompletedOption => ({ ...help, takesValue: false, choices: [] }));
  return {
    name: entry.name,
    summary: entry.summary,
    words,
    options: [...options, ...helps],
  };
}
