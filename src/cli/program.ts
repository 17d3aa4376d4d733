// The command line as commander sees it: every command by name and summary, and the named one in full.

import { Command, CommanderError } from '@commander-js/extra-typings';
import packageJson from '../../package.json' with { type: 'json' };
import { plain } from '../base/index.js';
import { refuseFormerNames, refuseSlips } from './arguments/strict-options.js';
import type { CommandEntry, Start, Style } from './command.js';
import type { ExitStatus, Io } from './host/io.js';
import { caution } from './layout/caution.js';
import { wrapped } from './layout/tell.js';

export const { version } = packageJson;

const afterHelp = `
Try first:
  dozewatch init                                   a watch file and a scenario to begin with
  dozewatch replay first-scenario.yaml -c watch.yaml
  dozewatch replay --help

Exit status: 0 all held; 1 something was missed, false, late or against an expectation; 2 bad input
or usage; 3 a fault of dozewatch itself; 130 interrupted.

${caution}`;

/**
 * Parses a command line and carries out its command.
 * @returns the command's exit status; 0 for help and version; 2 for a command line that makes no sense.
 */
export async function runProgram(
  args: readonly string[],
  io: Io,
  entries: readonly CommandEntry[],
): Promise<ExitStatus> {
  const written: Promise<void>[] = [];
  let status: ExitStatus = 0;
  const program = bareProgram(io, written);
  const start: Start = async (work) => {
    const style: Style = { colour: program.opts().color };
    status = await work(io, style);
  };
  const named: Command[] = [];
  for (const entry of entries) {
    const command = program.command(entry.name).summary(entry.summary);
    command.description(`${entry.name}: ${entry.summary}`);
    if (!args.includes(entry.name)) continue;
    (await entry.load()).define(command, start, entries);
    refuseSlips(command);
    named.push(command);
  }
  try {
    for (const command of named) refuseFormerNames(command, args.slice(1));
    await program.parseAsync(args, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    status = error.exitCode === 0 ? 0 : 2;
  }
  await Promise.all(written);
  return status;
}

/** Words that are broken for a wider terminal, as one line each, to be broken anew. */
function paragraphs(text: string, width: number): string {
  return text.replaceAll(/(?:^\S.*$\n?)+/gmu, (part) => {
    const lines = part.trimEnd().split('\n');
    const isWide = lines.some((line) => line.length > width);
    return isWide ? `${lines.join(' ')}\n` : part;
  });
}

/** Of a line of an error: what it quotes may have a million characters. */
const mostCharacters = 2_000;

function shortLine(line: string): string {
  return line.length <= mostCharacters ? line : `${line.slice(0, mostCharacters)}…`;
}

function bareProgram(io: Io, written: Promise<void>[]) {
  const write = (to: 'stdout' | 'stderr') => (text: string) => {
    const lines = text
      .split('\n')
      .map((line) => plain(shortLine(line)))
      .join('\n');
    const { isTerminal, columns } = io[to];
    written.push(io[to].write(isTerminal ? wrapped(paragraphs(lines, columns), columns) : lines));
  };
  return new Command('dozewatch')
    .description(
      'Will a sleeping door monitor tell you every time the door is left open? Replays door timelines\n' +
        'through its logic in virtual time, and judges what it did.',
    )
    .version(version)
    .option('--no-color', 'no colours (NO_COLOR in the environment says the same)')
    .configureOutput({
      writeOut: write('stdout'),
      writeErr: write('stderr'),
      getOutHelpWidth: () => io.stdout.columns,
      getErrHelpWidth: () => io.stderr.columns,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .configureHelp({ subcommandTerm: (command) => command.name() })
    .showHelpAfterError('(--help shows what there is)')
    .exitOverride()
    .addHelpText('after', afterHelp);
}
