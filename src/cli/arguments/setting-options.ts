// Options made from the table of settings, and their types.

import type { OptionValues } from '@commander-js/extra-typings';
import { type Command, type CommandUnknownOpts, Option } from '@commander-js/extra-typings';
import { allSettings, type Section, type Setting, type Settings } from '../../model/index.js';

/** Settings that were typed to override a watch file. */
export type WatchOptions = OptionsIn<Settings[keyof Settings]>;

/** Ranges of settings that were typed for a search. */
export type TriedOptions = OptionsIn<Settings[keyof Settings], { readonly tried: unknown }>;

/** The options of rows, by the names that the parser of command lines gives them: `--wake-on <edges>` is `wakeOn`. */
type OptionsIn<S extends Section, Rows = unknown> = {
  readonly [Flags in FlagsIn<S, Rows> as NameOf<Flags>]?: string | undefined;
};

type FlagsIn<S extends Section, Rows> = S extends Section
  ? FlagsOf<S['keys'][keyof S['keys']], Rows>
  : never;

type FlagsOf<Part, Rows> = Part extends { readonly option: { readonly flags: infer Flags } } & Rows
  ? Flags
  : never;

type NameOf<Flags> = Flags extends `--${infer Name} <${string}>` ? CamelCase<Name> : never;

type CamelCase<Name extends string> = Name extends `${infer First}-${infer Rest}`
  ? `${First}${Capitalize<CamelCase<Rest>>}`
  : Name;

/** Adds the options that override a watch file; their types come from the table. */
export function withWatchOverrides<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
): Command<Args, Opts & WatchOptions>;
export function withWatchOverrides(command: CommandUnknownOpts): unknown {
  command.optionsGroup('Settings that override the watch file:');
  addOptions(command, over('watch', 'judge', 'device'), ({ flags, help }) => [flags, help]);
  command.optionsGroup('What may go wrong (default: nothing, or what the watch file allows):');
  addOptions(command, over('environment'), ({ flags, help }) => [flags, help]);
  return command;
}

function over(...sections: readonly string[]): readonly Setting[] {
  return sections.flatMap((section) => allSettings.filter(({ path }) => path[0] === section));
}

/** Adds the options for the ranges that a search tries. */
export function withTriedRanges<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
): Command<Args, Opts & TriedOptions>;
export function withTriedRanges(command: CommandUnknownOpts): unknown {
  const tried = allSettings.filter(({ row }) => row.tried !== undefined);
  addOptions(command, tried, ({ flags, help }, { row }) => {
    const name = flags.replace(/ .*/u, '');
    return [`${name} <${row.kind === 'word' ? 'list' : 'range'}>`, help];
  });
  return command;
}

function addOptions(
  command: CommandUnknownOpts,
  settings: readonly Setting[],
  words: (
    option: NonNullable<Setting['row']['option']>,
    setting: Setting,
  ) => readonly [flags: string, help: string],
): void {
  for (const setting of settings) {
    const { option } = setting.row;
    if (option !== undefined) command.addOption(new Option(...words(option, setting)));
  }
}

/** What was typed for a setting; undefined: nothing. */
export function typedFor({ row }: Setting, options: WatchOptions): string | undefined {
  if (row.option === undefined) return undefined;
  const name = new Option(row.option.flags).attributeName();
  const text: unknown = new Map<string, unknown>(Object.entries(options)).get(name);
  return typeof text === 'string' ? text : undefined;
}
