// The command line as commander sees it: every command by name and summary, and the named one in full.

import { Command, CommanderError, type CommandUnknownOpts } from '@commander-js/extra-typings';
import packageJson from '../../package.json' with { type: 'json' };
import { plain } from '../base/index.js';
import { houseError } from './arguments/house-error.js';
import { refuseFormerNames, refuseSlips } from './arguments/strict-options.js';
import type { CommandEntry, Start, Style } from './command.js';
import { fullHelp, helpLayout } from './help.js';
import type { ExitStatus, Io } from './host/io.js';
import { caution } from './layout/caution.js';
import { asRun, programName } from './layout/command-line.js';
import { wrapped } from './layout/print.js';

export const { version } = packageJson;

const afterHelp = `
Start here:
  dozewatch init
  dozewatch replay first-scenario.yaml -c watch.yaml
  dozewatch bounds -c watch.yaml

Exit status: 0 all requirements met; 1 something was missed, late, false or unexpected; 2 bad input;
3 an internal error of dozewatch; 130 interrupted.

${caution}`;

/**
 * Parses a command line and runs its command.
 * @returns the command's exit status; 0 for help and version; 2 for a command line that cannot be understood.
 */
export async function runProgram(
  args: readonly string[],
  io: Io,
  entries: readonly CommandEntry[],
): Promise<ExitStatus> {
  const written: Promise<void>[] = [];
  let status: ExitStatus = 0;
  const isFull = isForFullHelp(args);
  const program = bareProgram(io, { isFull, written });
  let called: CommandUnknownOpts | null = null;
  program.hook('preAction', (_, command) => {
    called = command;
  });
  const start: Start = async (work) => {
    if (called !== null) {
      const { findWatch } = await import('./inputs/find-watch.js');
      await findWatch(called, io);
    }
    const style: Style = { colour: program.opts().color };
    status = await work(io, style);
  };
  const named: Command[] = [];
  for (const entry of entries) {
    const command = program.command(entry.name).summary(entry.summary).helpGroup(entry.group);
    command.description(`${entry.name}: ${entry.summary}`);
    command.showHelpAfterError(seeHelp(`${programName(io.environment)} ${entry.name}`));
    if (!args.includes(entry.name)) continue;
    (await entry.load()).define(command, start, entries);
    refuseSlips(command);
    named.push(command);
  }
  try {
    for (const command of named) refuseFormerNames(command, args.slice(1));
    await program.parseAsync(asHelp(args, entries), { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    status = error.exitCode === 0 ? 0 : 2;
  }
  await Promise.all(written);
  return status;
}

function seeHelp(command: string): string {
  return `(see ${command} --help)`;
}

/**
 * `help NAME` of an unknown command becomes `NAME`, whose error suggests another name; `help help` becomes `--help`; and
 * `--help-all` is a help whose layout differs.
 */
function asHelp(args: readonly string[], entries: readonly CommandEntry[]): readonly string[] {
  if (isForFullHelp(args)) return args.map((arg) => (arg === fullHelp ? '--help' : arg));
  const [first, name] = args.filter((arg) => arg !== '--no-color');
  if (first !== 'help' || name === undefined || name.startsWith('-')) return args;
  if (name === 'help') return ['--help'];
  return entries.some((entry) => entry.name === name) ? args : [name];
}

function isForFullHelp(args: readonly string[]): boolean {
  const options = args.includes('--') ? args.slice(0, args.indexOf('--')) : args;
  return options.includes(fullHelp);
}

/** Joins each paragraph that was broken for a wider terminal into one line. */
function paragraphs(text: string, width: number): string {
  return text.replaceAll(/(?:^\S.*$\n?)+/gmu, (part) => {
    const lines = part.trimEnd().split('\n');
    const isWide = lines.some((line) => line.length > width);
    return isWide ? `${lines.join(' ')}\n` : part;
  });
}

/** The most of one line of an error, which may quote an argument of any length. */
const mostCharacters = 2_000;

function shortLine(line: string): string {
  return line.length <= mostCharacters ? line : `${line.slice(0, mostCharacters)}…`;
}

function bareProgram(
  io: Io,
  { isFull, written }: { readonly isFull: boolean; readonly written: Promise<void>[] },
) {
  const write = (to: 'stdout' | 'stderr') => (text: string) => {
    const lines = asRun(text, io.environment)
      .split('\n')
      .map((line) => plain(shortLine(line)))
      .join('\n');
    const { isTerminal, columns } = io[to];
    written.push(io[to].write(isTerminal ? wrapped(paragraphs(lines, columns), columns) : lines));
  };
  const name = programName(io.environment);
  return new Command(name)
    .description(
      'Will a sleeping door monitor report every door that is left open? How late, at worst? How often will\n' +
        'it raise a false alarm? dozewatch simulates its logic, proves what you can rely on, and judges it.',
    )
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', `show this help (${fullHelp}: with every option explained)`)
    .commandsGroup('Other:')
    .helpCommand('help [command]', 'show the help of a command')
    .option('--no-color', 'no colours; setting NO_COLOR also works')
    .configureOutput({
      writeOut: write('stdout'),
      writeErr: write('stderr'),
      outputError: (text, write) => write(houseError(text)),
      getOutHelpWidth: () => io.stdout.columns,
      getErrHelpWidth: () => io.stderr.columns,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .configureHelp(helpLayout({ isFull }))
    .showHelpAfterError(seeHelp(name))
    .exitOverride()
    .addHelpText('after', afterHelp);
}
