// A missing tool is the one thing these scripts cannot fetch by themselves: say which, what for and how to get it.
import { accessSync, constants } from 'node:fs';
import path from 'node:path';

/** Thrown for a reason that the reader can act on: its message is all that should be printed. */
export class PlainError extends Error {
  /** @override */
  name = 'PlainError';
}

/**
 * Finds the first of some commands on the search path.
 * @param {{ what: string, commands: readonly string[], neededFor: string, install: string }} tool
 * @returns {string} the full path of the command found
 * @throws {PlainError} in words, when there is none
 */
export function requireTool({ what, commands, neededFor, install }) {
  const folders = (process.env['PATH'] ?? '').split(path.delimiter).filter((name) => name !== '');
  const endings = process.platform === 'win32' ? ['.exe', '.cmd', ''] : [''];
  for (const command of commands) {
    for (const folder of folders) {
      for (const ending of endings) {
        const file = path.join(folder, command + ending);
        if (isExecutable(file)) return file;
      }
    }
  }
  throw new PlainError(
    `No ${what} was found (looked for ${commands.join(', ')} on PATH). ` +
      `It is needed for ${neededFor}.\n${install}`,
  );
}

/** @param {string} file */
function isExecutable(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
