// One run of the program: whatever happens in it ends here as an exit status and plain words.
import type { Diagnostic } from '../base/index.js';
import { commandTable } from './commands.js';
import type { ExitStatus, Io } from './host/io.js';
import { flushWaiting, withWaiting } from './host/waiting.js';
import { InputProblem, problem } from './problem.js';
import { runProgram, version } from './program.js';

/** The most diagnostics of one file printed in full. */
const mostDiagnostics = 10;

/**
 * Runs dozewatch with its arguments (without `node` and the script). Everything it does to the world goes through
 * `io` and the files named by its options; it never exits the process and never throws for what the user gave it.
 */
export async function run(args: readonly string[], given: Io): Promise<ExitStatus> {
  const io = withWaiting(given);
  try {
    const status = await runProgram(args, io, commandTable);
    await flushWaiting(io);
    return status;
  } catch (error) {
    if (error instanceof InputProblem) {
      io.waiting.length = 0;
      await printDiagnostics(error.diagnostics, args, io);
      return 2;
    }
    await printFault(error, args, io);
    return 3;
  }
}

/** For a run in a folder that was removed meanwhile: no name means anything there. */
export async function refuseFolder(args: readonly string[], io: Io): Promise<ExitStatus> {
  const { diagnostics } = problem('folder-gone', '.', {
    message: 'the current folder no longer exists',
    hint: 'change to another folder, and run the command again',
  });
  await printDiagnostics(diagnostics, args, io);
  return 2;
}

async function printDiagnostics(
  diagnostics: readonly Diagnostic[],
  args: readonly string[],
  io: Io,
): Promise<void> {
  const [{ writeDiagnostics }, { withCommandLines }, { withKindHints }, { paint, wantsColour }] =
    await Promise.all([
      import('./host/write-diagnostics.js'),
      import('./layout/command-line.js'),
      import('./layout/kind-hint.js'),
      import('./layout/paint.js'),
    ]);
  const option = !args.includes('--no-color');
  const coloured = wantsColour({ ...io, isTerminal: io.stderr.isTerminal, option });
  const whole = withCommandLines(withKindHints(diagnostics, args), args);
  await writeDiagnostics(whole, { io, paint: paint(coloured), most: mostDiagnostics });
}

/** Prints what a person needs to report a fault of dozewatch itself. */
export async function printFault(error: unknown, args: readonly string[], io: Io): Promise<void> {
  const { faultText } = await import('./layout/internal-error-text.js');
  const text = faultText(error, {
    version,
    platform: `node ${process.version}, ${process.platform} ${process.arch}`,
    commandLine: args,
    homeFolder: io.environment['HOME'] ?? io.environment['USERPROFILE'],
  });
  await io.stderr.write(text);
}
