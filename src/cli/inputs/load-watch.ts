// The watch that a command runs: from its file, or the defaults.
import type { Diagnostic } from '../../base/index.js';
import {
  defaultWatchFile,
  parseWatchFile,
  type WatchFile,
  type WatchOverride,
  type WrittenSection,
  wholeWatchFile,
} from '../../scenarios/index.js';
import { compileWatch, type Program } from '../../sim/index.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { loadLogic } from '../logic/load.js';
import { InputProblem } from '../problem.js';

export interface LoadedWatch {
  readonly watchFile: WatchFile;
  readonly program: Program;
  /** As the user named it; null: the defaults apply. */
  readonly name: string | null;
  /** The text of the file, without overrides; null: there is no file. */
  readonly text: string | null;
  readonly warnings: readonly Diagnostic[];
  /** Whether your own machine replaces the logic of the watch. */
  readonly ownLogic: boolean;
  /** Its file. */
  readonly logicName?: string | undefined;
  /** The whole watch file with its defaults, as a file would write it. */
  readonly settings: () => WrittenSection;
}

/**
 * @param overrides settings that override the file or the defaults.
 * @param logic a file with the machine that replaces the watch's own logic.
 * @throws InputProblem when the file cannot be read, or has errors.
 */
export async function loadWatch(
  file: string | undefined,
  io: Io,
  overrides: readonly WatchOverride[] = [],
  logic?: string,
): Promise<LoadedWatch> {
  const ownLogic = logic !== undefined;
  if (file === undefined && overrides.length === 0) {
    const watchFile = defaultWatchFile();
    const program = await programOf(watchFile, logic, io);
    const settings = () => wholeWatchFile(null, 'the defaults');
    return {
      watchFile,
      program,
      name: null,
      text: null,
      warnings: [],
      ownLogic,
      logicName: logic,
      settings,
    };
  }
  const text = file === undefined ? null : await readText(file, io);
  const result = parseWatchFile(text, file ?? 'the defaults', overrides);
  if (!result.ok) throw new InputProblem(result.errors);
  const watchFile = result.value;
  const { warnings } = result;
  const program = await programOf(watchFile, logic, io);
  const settings = () => wholeWatchFile(text, file ?? 'the defaults', overrides);
  return {
    watchFile,
    program,
    name: file ?? null,
    text,
    warnings,
    ownLogic,
    logicName: logic,
    settings,
  };
}

async function programOf(
  { watch }: WatchFile,
  logic: string | undefined,
  io: Io,
): Promise<Program> {
  return logic === undefined
    ? compileWatch(watch)
    : { watch, table: await loadLogic(logic, watch, io), ownLogic: true };
}
