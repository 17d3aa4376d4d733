// Command lines that a person can paste: they begin as this run was started.
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
