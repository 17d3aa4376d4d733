// Which watch a command runs: the file of `-c`; without it the `watch.yaml` beside the first timeline, else the one in the current
// folder; else the defaults, which `--no-config` takes at once.
import {
  type Command,
  type CommandUnknownOpts,
  Option,
  type OptionValues,
} from '@commander-js/extra-typings';

/**
 * Where a command looks for a watch file: the timeline beside which it may be, or only the current folder. Null: nowhere, because
 * the command line names its watches in another way.
 */
export type LookBeside = (
  operands: readonly string[],
  options: Readonly<Record<string, unknown>>,
) => { readonly timeline: string | undefined } | null;

const looks = new WeakMap<CommandUnknownOpts, LookBeside>();

/** Beside the first timeline, which is the first operand. */
export const besideFirst: LookBeside = ([timeline]) => ({ timeline });
/** In the current folder only. */
export const inFolder: LookBeside = () => ({ timeline: undefined });

/** Beside the log that a profile is fitted to. */
export const besideLog: LookBeside = (_, { profileFrom }) => ({
  timeline: typeof profileFrom === 'string' ? profileFrom : undefined,
});

/** Each scenario of a folder has its own. */
export const inItsFolders: LookBeside = () => null;

/** Adds `--no-config` behind `-c`, and has the watch file found where neither is given. */
export function withWatchChoice<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
  look: LookBeside,
): Command<Args, Opts> {
  const same: CommandUnknownOpts = command;
  same.addOption(new Option('--no-config', 'take the defaults, also where there is a watch.yaml'));
  looks.set(same, look);
  return command;
}

/** How a command looks for a watch file; undefined: it takes none. */
export function lookOf(command: CommandUnknownOpts): LookBeside | undefined {
  return looks.get(command);
}
