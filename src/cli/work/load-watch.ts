// The watch that a command is to run: from its file, or what an owner gets who sets nothing.
import type { Diagnostic } from '../../base/index.js';
import { defaultWatchFile, parseWatchFile, type WatchFile } from '../../scenarios/index.js';
import { compileWatch, type Program } from '../../sim/index.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { InputProblem } from '../problem.js';

export interface LoadedWatch {
  readonly watchFile: WatchFile;
  readonly program: Program;
  /** As the user named it; null: the defaults apply. */
  readonly name: string | null;
  readonly warnings: readonly Diagnostic[];
}

/** @throws InputProblem when the file cannot be read or believed. */
export async function loadWatch(file: string | undefined, io: Io): Promise<LoadedWatch> {
  if (file === undefined) {
    const watchFile = defaultWatchFile();
    return { watchFile, program: compileWatch(watchFile.watch), name: null, warnings: [] };
  }
  const result = parseWatchFile(await readText(file, io), file);
  if (!result.ok) throw new InputProblem(result.errors);
  const watchFile = result.value;
  const { warnings } = result;
  return { watchFile, program: compileWatch(watchFile.watch), name: file, warnings };
}
