// Command lines that a person can paste: they begin as this run was started.
import { type Diagnostic, shellWord } from '../../base/index.js';
import { repeatable } from '../arguments/repeated.js';
import { commandNames } from '../command.js';
import type { Io } from '../host/io.js';

type Environment = Io['environment'];

/** npm sets both variables for what `npx` and `npm exec` start; an outer `npx` of another program names that one. */
export function programName(environment: Environment): 'dozewatch' | 'npx dozewatch' {
  const isExec = environment['npm_command'] === 'exec';
  const script = environment['npm_lifecycle_script'] ?? '';
  return isExec && /\bdozewatch\b/u.test(script) ? 'npx dozewatch' : 'dozewatch';
}

const command = new RegExp(`(?<!npx )\\bdozewatch (?=(?:${commandNames.join('|')})\\b)`, 'gu');

/** A text for people in which each `dozewatch COMMAND` is a line that works where this run was started. */
export function asRun(text: string, environment: Environment): string {
  return text.replaceAll(command, `${programName(environment)} `);
}

/** Options that name the columns of a log: an offer of a time or start column is a whole set of them. */
const columnOptions = [
  '--date-column',
  '--time-column',
  '--state-column',
  '--start-column',
  '--end-column',
  '--duration-column',
];

/** Arguments without the options that come again: what was typed for them was wrong. */
function without(args: readonly string[], options: string): readonly string[] {
  const offered: readonly string[] = options.match(/--[a-z-]+/gu) ?? [];
  const isWholeSet = offered.includes('--time-column') || offered.includes('--start-column');
  const again = new Set([
    ...offered.filter((option) => !repeatable.has(option)),
    ...(isWholeSet ? columnOptions : []),
  ]);
  return args.filter((arg, index) => {
    const before = args[index - 1] ?? '';
    return !again.has(arg.replace(/=.*/su, '')) && !again.has(before);
  });
}

/** The most command lines that one error offers. */
const mostOffered = 4;

/** An offer is options, or a filter for the file, a bar, and options: then the command reads what the filter writes. */
function lineOf(offer: string, args: readonly string[], file: string): string {
  const bar = offer.lastIndexOf(' | ');
  const options = bar < 0 ? offer : offer.slice(bar + 3);
  const again = without(args, options).map((arg) => (bar >= 0 && arg === file ? '-' : arg));
  const line = `dozewatch ${again.map(shellWord).join(' ')} ${options}`;
  return bar < 0 ? line : `${offer.slice(0, bar)} | ${line}`;
}

/** Options that would settle an error become whole command lines: this run's, with the options behind it. */
export function withCommandLines(
  diagnostics: readonly Diagnostic[],
  args: readonly string[],
): readonly Diagnostic[] {
  return diagnostics.map((one) =>
    one.tries === undefined
      ? one
      : {
          ...one,
          tries: one.tries
            .slice(0, mostOffered)
            .map((offer) => lineOf(offer, args, one.source.file)),
        },
  );
}
